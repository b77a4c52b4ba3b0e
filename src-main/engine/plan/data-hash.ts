/** The fingerprint of what a plan was made from: the same data give the same hash, whatever the order of keys. */
import { createHash } from 'node:crypto'

export function dataHash(data: unknown): string {
  return createHash('sha256')
    .update(JSON.stringify(sortedKeys(data)))
    .digest('hex')
}

/** The same data with keys in order; an entry without a value is as one that is not there. */
function sortedKeys(data: unknown): unknown {
  if (Array.isArray(data)) return data.map(sortedKeys)
  if (typeof data !== 'object' || data === null) return data
  const from = data as Record<string, unknown>
  const sorted: Record<string, unknown> = {}
  for (const key of keyOrder(from)) {
    const value = from[key]
    sorted[key] = typeof value === 'object' ? sortedKeys(value) : value
  }
  return sorted
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
