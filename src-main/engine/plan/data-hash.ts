/** The fingerprint of what a plan was made from: the same data give the same hash, whatever the order of keys. */
import { createHash } from 'node:crypto'

/** [character] that are gathered before they are hashed: a large farm as one text would take hundreds of megabytes. */
const PIECE = 65_536

export function dataHash(data: unknown): string {
  const hash = createHash('sha256')
  let waiting = ''
  writeSorted(data, new Map(), (text) => {
    waiting += text
    if (waiting.length < PIECE) return
    hash.update(waiting)
    waiting = ''
  })
  return hash.update(waiting).digest('hex')
}

/**
 * As JSON, keys in order; an entry without a value is as one that is not there.
 * @param quoted texts as JSON: half a million options have few names among them
 */
function writeSorted(data: unknown, quoted: Map<string, string>, write: (text: string) => void): void {
  if (typeof data !== 'object' || data === null) return write(plainText(data, quoted))
  if (Array.isArray(data)) {
    let before = '['
    for (const each of data) {
      write(before)
      writeSorted(each, quoted, write)
      before = ','
    }
    return write(before === '[' ? '[]' : ']')
  }
  const from = data as Record<string, unknown>
  let text = '{'
  let between = ''
  for (const entry of keyOrder(from)) {
    const value = from[entry.key]
    if (value === undefined) continue
    text += between + entry.start
    between = ','
    if (typeof value !== 'object') {
      if (value !== entry.last) {
        entry.last = value
        entry.text = plainText(value, quoted)
      }
      text += entry.text
      continue
    }
    write(text)
    text = ''
    writeSorted(value, quoted, write)
  }
  write(`${text}}`)
}

/** What is no object, as JSON. */
function plainText(value: unknown, quoted: Map<string, string>): string {
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : 'null'
  if (typeof value !== 'string') return JSON.stringify(value) ?? 'null'
  let text = quoted.get(value)
  if (text === undefined) quoted.set(value, (text = JSON.stringify(value)))
  return text
}

interface Entry {
  key: string
  /** How the key stands in JSON. */
  start: string
  /** The value that was written last, as JSON: most of an option is as in the one before. */
  last: unknown
  text: string
}

/** Thousands of options have the same keys: each order is worked out once. */
const orders = new Map<string, Entry[]>()
let lastKeys: readonly string[] = []
let lastOrder: readonly Entry[] = []

/** Keys in order. */
function keyOrder(data: object): readonly Entry[] {
  const keys = Object.keys(data)
  if (keys.length === lastKeys.length && keys.every((key, at) => key === lastKeys[at])) return lastOrder
  const shape = keys.join('\n')
  let order = orders.get(shape)
  if (order === undefined) {
    const sorted = keys.toSorted()
    order = sorted.map((key) => ({ key, start: `${JSON.stringify(key)}:`, last: undefined, text: '' }))
    orders.set(shape, order)
  }
  lastKeys = keys
  lastOrder = order
  return order
}
