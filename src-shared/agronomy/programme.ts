/** Programmes: the sets of measures that can be taken on a field, and which of them are worth keeping. */
import type { Measure } from '../threat.ts'

/** The most programmes enumerated for one field and variety; beyond it the cheapest measures of a group are kept. */
export const MOST_PROGRAMMES = 256

/**
 * Every set with at most one measure of each group, the empty set first, in the order of the book.
 * @returns sets of measures; at most `MOST_PROGRAMMES`
 */
export function programmesOf(measures: readonly Measure[]): Measure[][] {
  const groups = new Map<string, Measure[]>()
  for (const measure of measures) groups.set(measure.group, [...(groups.get(measure.group) ?? []), measure])
  let sets: Measure[][] = [[]]
  for (const group of groups.values()) {
    const room = Math.floor(MOST_PROGRAMMES / sets.length) - 1
    const kept = [...group].sort((a, b) => a.centsPerAcre - b.centsPerAcre).slice(0, Math.max(0, room))
    const inOrder = group.filter((measure) => kept.includes(measure))
    sets = [...sets, ...inOrder.flatMap((measure) => sets.map((set) => [...set, measure]))]
  }
  return sets
}

/** What dominance looks at: less is better in each. */
export interface Burden {
  cash: number
  loss: number
  hours: number
}

/**
 * Drops whatever another entry is at least as good as in cash, loss and hours. Of exact equals the first stays.
 * Keeps every entry that could be best for some weight of loss ≥ 0, whatever an hour costs.
 */
export function undominated<Entry extends Burden>(entries: readonly Entry[]): Entry[] {
  const order = entries.map((entry, index) => ({ entry, index }))
  order.sort(
    (a, b) =>
      a.entry.cash - b.entry.cash || a.entry.loss - b.entry.loss || a.entry.hours - b.entry.hours || a.index - b.index,
  )
  const kept: typeof order = []
  for (const candidate of order) {
    const beaten = kept.some(({ entry }) => entry.loss <= candidate.entry.loss && entry.hours <= candidate.entry.hours)
    if (!beaten) kept.push(candidate)
  }
  return kept.sort((a, b) => a.index - b.index).map(({ entry }) => entry)
}
