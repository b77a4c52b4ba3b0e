/**
 * The options of one field, variety and planting window. What is the same in every week is worked out once; what a week
 * changes is the share that its date leaves of the yield.
 */
import type { PlantingWindow } from '../window.ts'
import { silent } from './calculation.ts'
import { ratePrice, worthKeeping, type Candidates } from './candidates.ts'
import type { Context } from './context.ts'
import { sharesOn, yieldBefore, type Growing } from './crop.ts'
import { overLimits, reasonsAlways, reasonsOfLoss, uninsuredReason } from './hard-rules.ts'
import type { Excluded, Option } from './option.ts'
import type { Columns, Dated, InWindow, OnGround, Rate } from './place.ts'
import type { Programme } from './programme.ts'
import { poundsPerAcre } from './seed.ts'
import { lossesAfter, lossShareAfter } from './threat.ts'

/** A rate on a field: everything but the date. */
interface Sown {
  rate: Rate
  /** [lb/acre] of seed, without the reserve. */
  pounds: number
  /** [lb/acre] on the best date, before diseases, pests and digging. */
  bestLb: number
  /** By disease or pest, before practices. */
  shares: number[]
  /** Reasons that no program can mend. */
  always: string[]
}

/** Passes on the options that stay, or adds to `excluded` why nothing may be planted. */
export function addOptions(
  context: Context,
  on: OnGround,
  within: InWindow,
  rates: readonly Rate[],
  weeks: readonly Dated[],
  excluded: Excluded[],
  take: (option: Option) => void,
): void {
  const { threats, canopy } = context
  const { field, variety, programmes, columns, vine, perPound } = on
  const sown = sownAt(context, on, within.window, rates, weeks.length === 0)
  if (!markAllowed(context, on, within, sown)) {
    excluded.push(excludedAt(context, on, within, sown))
    return
  }
  const programs = programmes.length
  const candidates: Candidates = { rates: sown.length, programs, ...columns }
  priceAlways(context, on, sown, columns)
  const seed =
    on.price &&
    ratePrice(
      on.price,
      field,
      sown.map(({ pounds }) => pounds),
    )
  const { could } = on.valueOf(0)
  // What each disease and pest takes is the same in every week too, and asked only of what stays.
  const losses: (readonly number[])[] = []

  const offer = (at: number, { week, date, ripe }: Dated) => {
    const { rate, bestLb, shares, pounds } = sown[Math.floor(at / programs)] as Sown
    const { names, leaves, gainLb } = programmes[at % programs] as Programme
    const cropLb = bestLb * date * (1 - (columns.lossShare[at] as number)) * (1 - vine.digLoss)
    take({
      field: field.name,
      variety: variety.name,
      window: within.window.name,
      planterHours: on.hours.planter,
      diggerHours: on.hours.digger,
      combineHours: on.hours.combine,
      work: 1 + vine.slowing,
      week,
      ripe,
      programme: names,
      seedsPerFoot: rate.seedsPerFoot,
      stand: rate.stand,
      seedPoundsPerAcre: pounds,
      cashCents: columns.cash[at] as number,
      losses: (losses[at] ??= lossesAfter(threats, canopy, shares, leaves)),
      lossShare: columns.lossShare[at] as number,
      yieldLb: cropLb + on.work.gainLb + gainLb,
      couldCents: could,
      lossCents: columns.loss[at] as number,
      vineCents: columns.vine[at] as number,
      giveUpCents: columns.giveUp[at] as number,
      cropLb,
      cropCents: context.countsYield ? cropLb * perPound : 0,
    })
  }

  const kept = weeks.map((dated) => {
    priceWeek(context, on, sown, dated.date)
    const own = worthKeeping(candidates, seed, on.byCash)
    for (const at of own) offer(at, dated)
    return own
  })
  // A field is put to one rate and program whole, over weeks as the planters can: what is worth keeping in one week is there in all.
  const inAny = [...new Set(kept.flat())]
  weeks.forEach((dated, index) => {
    const own = kept[index] as number[]
    if (own.length === inAny.length) return
    priceWeek(context, on, sown, dated.date)
    for (const at of inAny) if (!own.includes(at)) offer(at, dated)
  })
}

/** Fills in what is the same in every planting week. */
function priceAlways(
  { threats, canopy }: Context,
  { programmes, cash: ofProgram }: OnGround,
  sown: readonly Sown[],
  { isAllowed, pounds, cash, lossShare }: Columns,
): void {
  let at = 0
  for (const { pounds: ofRate, shares } of sown) {
    for (let program = 0; program < programmes.length; program += 1, at += 1) {
      if (isAllowed[at] === 0) continue
      pounds[at] = ofRate
      cash[at] = ofProgram[program] as number
      lossShare[at] = lossShareAfter(threats, canopy, shares, (programmes[program] as Programme).leaves)
    }
  }
}

/** Fills in what a planting week changes. @param date [share] of the best date's yield */
function priceWeek(context: Context, on: OnGround, sown: readonly Sown[], date: number): void {
  const { riskWeight, countsYield } = context
  const { isAllowed, cash, lossShare, loss, giveUp, vine, other, total } = on.columns
  const programs = on.programmes.length
  let at = 0
  for (const { bestLb } of sown) {
    const value = on.valueOf(bestLb * date)
    const vineCost = on.vineOf(value.crop)
    for (let program = 0; program < programs; program += 1, at += 1) {
      if (isAllowed[at] === 0) continue
      const lost = lossShare[at] as number
      // Less what its practices add; the best that any could add is in what the ground could bring.
      const gain = (on.programmes[program] as Programme).gainLb * on.perPound
      const givenUp = countsYield ? Math.max(0, value.giveUp - gain) : 0
      const vineCents = vineCost.none + (1 - lost) * (vineCost.whole - vineCost.none)
      const lossCents = lost * value.crop
      loss[at] = lossCents
      giveUp[at] = givenUp
      vine[at] = vineCents
      other[at] = givenUp + vineCents
      total[at] = (cash[at] as number) + riskWeight * lossCents + (givenUp + vineCents)
    }
  }
}

function sownAt(
  context: Context,
  { field, ground, variety, vine }: OnGround,
  window: PlantingWindow,
  rates: readonly Rate[],
  isTooLate: boolean,
): Sown[] {
  let first: number[] | undefined
  return rates.map((rate): Sown => {
    const { stand, standShare } = rate
    const growing: Growing = { field, variety, window: window.kind, planted: '', date: 1, stand, standShare }
    const shares = sharesOn(context, ground, growing, silent, 'usual', first)
    first ??= shares
    return {
      rate,
      pounds: poundsPerAcre(rate.seedsPerFoot, field.rowSpacingIn, variety.seedsPerPound),
      bestLb: yieldBefore(context, ground, growing, silent),
      shares,
      always: [
        ...reasonsAlways(context.hard, field, variety, window, vine, stand),
        ...(isTooLate ? [uninsuredReason(context)] : []),
      ],
    }
  })
}

/** Marks the candidates that no hard rule forbids. @returns false where there is none */
function markAllowed(context: Context, on: OnGround, { ofGroups }: InWindow, sown: readonly Sown[]): boolean {
  const { threats, canopy, hard } = context
  const { programmes, ofCount } = on
  const { isAllowed } = on.columns
  let isAny = false
  let at = 0
  for (const { always, shares } of sown) {
    for (let program = 0; program < programmes.length; program += 1, at += 1) {
      const { leaves } = programmes[program] as Programme
      const isForbidden =
        always.length > 0 ||
        (ofGroups[program] as string[]).length > 0 ||
        (ofCount[program] as string[]).length > 0 ||
        (mayLoseTooMuch(context, shares, leaves) && overLimits(hard, lossesAfter(threats, canopy, shares, leaves)) > 0)
      isAllowed[at] = isForbidden ? 0 : 1
      if (!isForbidden) isAny = true
    }
  }
  return isAny
}

/**
 * False where no limit on a loss can be broken: what is laid to one leaf disease is worked out only where the limit is on one.
 * Asked for every set of practices at every rate.
 */
function mayLoseTooMuch({ hard, threats }: Context, shares: readonly number[], leaves: readonly number[]): boolean {
  for (const { threat, most } of hard.largestLosses) {
    if (threats[threat]?.takes === 'leaves' || (shares[threat] as number) * (leaves[threat] as number) > most)
      return true
  }
  return false
}

/** Why nothing may be planted, by the program that comes nearest to being allowed: the one with the fewest reasons. */
function excludedAt(
  { threats, canopy, hard }: Context,
  { field, variety, programmes, ofCount }: OnGround,
  { window, ofGroups }: InWindow,
  sown: readonly Sown[],
): Excluded {
  let fewest = Infinity
  let reasons: string[] = []
  let programme: string[] = []
  for (const { always, shares } of sown) {
    for (const [program, { leaves, names }] of programmes.entries()) {
      const others = [...always, ...(ofGroups[program] as string[]), ...(ofCount[program] as string[])]
      if (others.length >= fewest) continue
      const losses = lossesAfter(threats, canopy, shares, leaves)
      const all = others.length + overLimits(hard, losses)
      if (all >= fewest) continue
      fewest = all
      reasons = [...others, ...reasonsOfLoss(hard, losses)]
      programme = names
    }
  }
  return { field: field.name, variety: variety.name, window: window.name, reasons, programme }
}
