/** Answers that say again what was known: parts that did not change keep being the same objects, and are not drawn anew. Pure. */

/**
 * `after`, with every part that equals its counterpart in `before` taken from there; the very same `before` where
 * nothing changed. Rows of a list are counterparts by their `id`, other entries by their place. Neither is changed.
 * @param before an answer of the engine: plain data
 */
export function keepSame<Value>(before: unknown, after: Value): Value {
  if (Object.is(before, after) || !isPart(before) || !isPart(after)) return after
  if (Array.isArray(after)) return (Array.isArray(before) ? keepList(before, after) : after) as Value
  return Array.isArray(before) ? after : (keepObject(before, after) as Value)
}

type Part = Record<string, unknown>
const isPart = (value: unknown): value is Part => typeof value === 'object' && value !== null
const idOf = (entry: unknown) => (isPart(entry) ? entry['id'] : undefined)

function keepList(before: unknown[], after: unknown[]): unknown[] {
  const byId = idOf(after[0]) === undefined ? null : new Map(before.map((entry) => [idOf(entry), entry]))
  const next = after.map((entry, at) => keepSame(byId ? byId.get(idOf(entry)) : before[at], entry))
  const isSame = next.length === before.length && next.every((entry, at) => Object.is(entry, before[at]))
  return isSame ? before : next
}

function keepObject(before: Part, after: Part): Part {
  const next: Part = {}
  let isSame = true
  let count = 0
  for (const key in after) {
    count += 1
    next[key] = keepSame(before[key], after[key])
    if (!Object.is(next[key], before[key]) || !(key in before)) isSame = false
  }
  return isSame && count === Object.keys(before).length ? before : next
}
