/** The fingerprint of what a plan was made from: the same data give the same hash, whatever the order of keys. */
import { createHash } from 'node:crypto'

export function dataHash(data: unknown): string {
  return createHash('sha256').update(canonical(data)).digest('hex')
}

function canonical(data: unknown): string {
  if (Array.isArray(data)) return `[${data.map(canonical).join(',')}]`
  if (typeof data === 'object' && data !== null) {
    const entries = Object.entries(data).filter(([, value]) => value !== undefined)
    entries.sort(([a], [b]) => (a < b ? -1 : 1))
    return `{${entries.map(([key, value]) => `${JSON.stringify(key)}:${canonical(value)}`).join(',')}}`
  }
  return JSON.stringify(data)
}
