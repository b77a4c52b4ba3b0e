/** The fingerprint of what a plan was made from: the same data give the same hash, whatever the order of keys. */
import { createHash } from 'node:crypto'

/** [character] that are gathered before they are hashed: a large farm as one text would take hundreds of megabytes. */
const PIECE = 65_536

export function dataHash(data: unknown): string {
  const hash = createHash('sha256')
  let waiting = ''
  writeSorted(data, (text) => {
    waiting += text
    if (waiting.length < PIECE) return
    hash.update(waiting)
    waiting = ''
  })
  return hash.update(waiting).digest('hex')
}

/** As JSON, keys in order; an entry without a value is as one that is not there. */
function writeSorted(data: unknown, write: (text: string) => void): void {
  if (typeof data !== 'object' || data === null) return write(JSON.stringify(data) ?? 'null')
  let between = ''
  if (Array.isArray(data)) {
    write('[')
    for (const each of data) {
      write(between)
      writeSorted(each, write)
      between = ','
    }
    return write(']')
  }
  const from = data as Record<string, unknown>
  write('{')
  for (const key of keyOrder(from)) {
    if (from[key] === undefined) continue
    write(`${between}${JSON.stringify(key)}:`)
    writeSorted(from[key], write)
    between = ','
  }
  write('}')
}

/** Thousands of options have the same keys: each order is worked out once. */
const orders = new Map<string, string[]>()

function keyOrder(data: object): string[] {
  const keys = Object.keys(data)
  const shape = keys.join('\n')
  let order = orders.get(shape)
  if (order === undefined) orders.set(shape, (order = keys.sort()))
  return order
}
