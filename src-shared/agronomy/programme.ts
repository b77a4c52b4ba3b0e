/** Programmes: the sets of measures that can be taken on a field, and which of them are worth keeping. */
import type { Measure } from '../threat.ts'

/** The most programmes looked at on one field, after those that could only lose were left out. */
export const MOST_PROGRAMMES = 256

/** What is said of a set of measures on one field. */
export interface Programme {
  measures: Measure[]
  /** Names, in the order of the book. */
  names: string[]
  /** [cent/acre] */
  cents: number
  /** [lb/acre] that its practices add to the yield here. */
  gainLb: number
  /** [share] of each threat's loss that is left, in the order of the threats asked for. */
  leaves: number[]
}

export interface Programmes {
  programmes: Programme[]
  /** Sets there are, before any was left out. */
  looked: number
  /** Sets left out although they might have been best, because there were more than can be looked at. */
  leftAside: number
}

/**
 * Every set with at most one measure of each group, the empty set first, in the order of the book; without those
 * that can only lose: dearer than another, or as dear, and leaving no less of any loss. What a rule may ask for by
 * group is never left out in favour of a set that lacks the group. Left out early, so that farms with long lists of
 * measures stay quick: whatever beats a set also beats it with the same measure added to both.
 * @param threats names of those that the field has
 * @param asked groups that a rule may ask for
 * @param most sets kept (a few more where many groups are asked for); where that bites, `leftAside` says by how
 *   many, and the cheapest and the most effective stay
 */
export function programmesOf(
  measures: readonly Measure[],
  threats: readonly string[],
  asked: ReadonlySet<string>,
  most = MOST_PROGRAMMES,
  gain: (measure: Measure) => number = () => 0,
): Programmes {
  const groups = new Map<string, Measure[]>()
  for (const measure of measures) groups.set(measure.group, [...(groups.get(measure.group) ?? []), measure])
  let sets: Programme[] = [{ measures: [], names: [], cents: 0, gainLb: 0, leaves: threats.map(() => 1) }]
  let looked = 1
  let leftAside = 0
  for (const group of groups.values()) {
    looked *= group.length + 1
    sets = withoutLosers(
      [...sets, ...group.flatMap((measure) => sets.map((set) => add(set, measure, threats, gain(measure))))],
      asked,
    )
    if (sets.length <= most) continue
    const fewerSets = fewer(sets, most, asked)
    leftAside += sets.length - fewerSets.length
    sets = fewerSets
  }
  return { programmes: sets, looked, leftAside }
}

function add(set: Programme, measure: Measure, threats: readonly string[], gainLb: number): Programme {
  return {
    measures: [...set.measures, measure],
    names: [...set.names, measure.name],
    cents: set.cents + measure.centsPerAcre,
    gainLb: set.gainLb + gainLb,
    leaves: set.leaves.map((left, t) => left * (1 - (measure.efficacy[threats[t] as string] ?? 0))),
  }
}

/** The groups asked for that a set has. */
function askedIn(set: Programme, asked: ReadonlySet<string>): Set<string> {
  return new Set(set.measures.map((measure) => measure.group).filter((group) => asked.has(group)))
}

function withoutLosers(sets: readonly Programme[], asked: ReadonlySet<string>): Programme[] {
  const order = sets.map((set, index) => ({ set, index, has: askedIn(set, asked) }))
  order.sort(
    (a, b) =>
      a.set.cents - b.set.cents ||
      sum(a.set.leaves) - sum(b.set.leaves) ||
      b.set.gainLb - a.set.gainLb ||
      a.index - b.index,
  )
  const kept: typeof order = []
  for (const each of order) {
    const loses = kept.some(
      (other) =>
        other.set.leaves.every((left, t) => left <= (each.set.leaves[t] as number)) &&
        other.set.gainLb >= each.set.gainLb &&
        [...each.has].every((group) => other.has.has(group)),
    )
    if (!loses) kept.push(each)
  }
  return kept.sort((a, b) => a.index - b.index).map(({ set }) => set)
}

/**
 * For every combination of groups asked for its share of the room: the cheapest, and of the rest those that leave
 * least. A combination never vanishes, so that no rule becomes unfulfillable by this.
 */
function fewer(sets: readonly Programme[], most: number, asked: ReadonlySet<string>): Programme[] {
  const byGroups = Map.groupBy(sets, (set) => [...askedIn(set, asked)].sort().join('\n'))
  const room = Math.max(2, Math.floor(most / byGroups.size))
  const stay = new Set<Programme>()
  for (const alike of byGroups.values()) {
    const cheapest = alike.toSorted((a, b) => a.cents - b.cents)
    const strongest = alike.toSorted((a, b) => sum(a.leaves) - sum(b.leaves))
    const share = new Set(cheapest.slice(0, room >> 1))
    for (const set of strongest) if (share.size < room) share.add(set)
    for (const set of share) stay.add(set)
  }
  return sets.filter((set) => stay.has(set))
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0)
}
