/**
 * Which seeding rates and spray programs of one field, variety and planting week become options. Most of a large farm's
 * millions lose to another, so they are compared as columns of numbers, and nothing is made of one that loses.
 */
import type { Field } from '../field.ts'
import { leastExtra, type SeedPrice } from './seed-price.ts'

/** Columns of numbers. A candidate's place in each is rate × programs + program. */
export interface Candidates {
  rates: number
  programs: number
  /** 1 where no hard rule forbids the candidate, otherwise 0. */
  isAllowed: Uint8Array
  /** [lb/acre] of seed. */
  pounds: Float64Array
  /** [cent/acre] practices and vine work. */
  cash: Float64Array
  /** [cent/acre] expected. */
  loss: Float64Array
  /** [cent/acre] yield given up and what the vine costs: not weighed by risk. */
  other: Float64Array
  /** [cent/acre] cash, loss weighed by risk and the rest, without seed. */
  total: Float64Array
}

/** What seed costs by rate, for one variety on one field. */
export interface RatePrice {
  /** [cent/acre] that a thicker rate's seed costs more at the least: `extra[thick][thin]`. */
  extra: readonly (readonly number[])[]
  /** [cent/acre] of each rate's seed at the most. */
  most: readonly number[]
  /** True where the seed may run out: then a thinner rate may be worth more than it saves. */
  isLimited: boolean
}

/** @param pounds [lb/acre] of seed, by rate */
export function ratePrice(
  price: SeedPrice,
  field: Pick<Field, 'acres' | 'split'>,
  pounds: readonly number[],
): RatePrice {
  return {
    extra: pounds.map((thick) => pounds.map((thin) => leastExtra(price, field, thin, thick))),
    most: pounds.map((each) => price.most * each),
    isLimited: price.isLimited,
  }
}

/**
 * The candidates that a best plan could have, in their order. What loses:
 * a rate that the same program beats at another rate whatever the seed costs; then whatever another is at least as good as
 * in cash, loss, the rest and pounds of seed. Of exact equals the first stays.
 * @param seed undefined where nobody offers the variety: then no rate loses by its seed
 * @param byCash programs by rising cash
 */
export function worthKeeping(candidates: Candidates, seed: RatePrice | undefined, byCash: readonly number[]): number[] {
  const { rates, programs, isAllowed } = candidates
  const inLine: number[] = []
  for (const program of byCash) {
    for (let rate = 0; rate < rates; rate += 1) {
      const at = rate * programs + program
      if (isAllowed[at] === 0 || (seed !== undefined && !paysItsSeed(candidates, seed, rate, program))) continue
      // Of as much cash the better goes first, so that whatever beats a candidate comes before it.
      let place = inLine.length
      for (; place > 0 && comesBefore(candidates, at, inLine[place - 1] as number); place -= 1)
        inLine[place] = inLine[place - 1] as number
      inLine[place] = at
    }
  }
  const kept: number[] = []
  for (const at of inLine) if (!isBeaten(candidates, at, kept)) kept.push(at)
  return kept.sort((a, b) => a - b)
}

/**
 * False for a thicker rate that does not pay at the least that its seed can cost, and for a thinner one that does not pay at
 * the most, unless the seed may run out.
 */
function paysItsSeed(candidates: Candidates, price: RatePrice, rate: number, program: number): boolean {
  const { rates, programs, pounds, isAllowed, total } = candidates
  const { extra, most, isLimited } = price
  const at = rate * programs + program
  const own = total[at] as number
  for (let other = 0; other < rates; other += 1) {
    const by = other * programs + program
    if (isAllowed[by] === 0) continue
    const theirs = total[by] as number
    const more = (pounds[at] as number) - (pounds[by] as number)
    if (more > 0 && !(own + (extra[rate]?.[other] as number) < theirs)) return false
    if (more < 0 && !isLimited && !(own + (most[rate] as number) <= theirs + (most[other] as number))) return false
  }
  return true
}

function comesBefore({ cash, loss, other, pounds }: Candidates, a: number, b: number): boolean {
  const by =
    (cash[a] as number) - (cash[b] as number) ||
    (loss[a] as number) - (loss[b] as number) ||
    (other[a] as number) - (other[b] as number) ||
    (pounds[a] as number) - (pounds[b] as number) ||
    a - b
  return by < 0
}

/** @param kept that come before it: none of them costs more cash */
function isBeaten({ loss, other, pounds }: Candidates, at: number, kept: readonly number[]): boolean {
  const [ownLoss, ownOther, ownPounds] = [loss[at] as number, other[at] as number, pounds[at] as number]
  for (const by of kept) {
    if ((loss[by] as number) <= ownLoss && (other[by] as number) <= ownOther && (pounds[by] as number) <= ownPounds)
      return true
  }
  return false
}
