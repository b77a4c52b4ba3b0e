/**
 * Options: one variety, window and programme for one field, priced. What a hard rule forbids is returned
 * beside them with every reason. Of the programmes of one field, variety and window only the undominated stay.
 */
import { unreadRows } from '../book/unread-rows.ts'
import type { Field } from '../field.ts'
import type { Problem } from '../problem.ts'
import { ruleOf } from '../rule.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import { acreValue, bestValueOf, vineCents, type BestValue } from './acre-money.ts'
import { silent } from './calculation.ts'
import type { Context } from './context.ts'
import { dateShareOf, groundFor, sharesOn, yieldBefore, type Ground, type Growing } from './crop.ts'
import { ratesFor } from './drop.ts'
import { isPlantedIn, programmesOn } from './ground.ts'
import { reasonsAlways, reasonsOfLoss, reasonsOfProgramme } from './hard-rules.ts'
import { addDays, hoursPerAcre, middleOf, weekOf } from './harvest.ts'
import { dollarsPerPound } from './price.ts'
import { undominated, type Programme } from './programme.ts'
import { poundsPerAcre } from './seed.ts'
import { leastExtra, seedPrices, type SeedPrice } from './seed-price.ts'
import { lossesAfter, lossShareAfter } from './threat.ts'
import { threatNotices } from './threat-table.ts'
import { vineNotices } from './vine.ts'
import { usualNotices } from './usual-choice.ts'
import { vineWorkOf } from './vine-work.ts'

export interface Option {
  field: string
  variety: string
  window: string
  /** Names of the measures. */
  programme: string[]
  /** [seeds/ft of row position] */
  seedsPerFoot: number
  /** [plants/ft] */
  stand: number
  /** [lb/acre] without the reserve. */
  seedPoundsPerAcre: number
  /** [cent/acre] measures and vine work, without seed. */
  cashCents: number
  /** [share of yield] by threat, in the order of the season's threats. */
  losses: number[]
  /** [share of yield] all threats together. */
  lossShare: number
  /** [lb/acre] expected. */
  yieldLb: number
  /** [cent/acre] What the ground could bring: the same for every option of a field. */
  couldCents: number
  /** [cent/acre] */
  lossCents: number
  /** [cent/acre] digging loss and slowing by the vine, less what a growth regulator is taken to gain. */
  vineCents: number
  /** [cent/acre] yield given up to variety, stand and planting date. */
  giveUpCents: number
  /** [machine-hour/acre] */
  planterHours: number
  diggerHours: number
  combineHours: number
  /** Monday of the week of digging. ISO date. */
  harvestWeek: string
}

/** A field, variety and window that no programme can make allowed, with every reason. */
export interface Excluded {
  field: string
  variety: string
  window: string
  /** Of the programme that comes nearest to being allowed: the one with the fewest reasons. */
  reasons: string[]
  /** Its measures. */
  programme: string[]
}

export interface Options {
  options: Option[]
  excluded: Excluded[]
  /** Programmes there are, over all fields, varieties and windows, before any was left out. */
  looked: number
  /** What has to be said: a threat without a loss, a row that nothing reads, sets of measures left aside. */
  notices: Problem[]
}

/** All options of a season, in the order of its fields, varieties and windows. */
export function buildOptions(context: Context): Options {
  const { season } = context
  const notices = [
    ...threatNotices(context.threats),
    ...vineNotices(context.book),
    ...unreadRows(season),
    ...usualNotices(context),
  ]
  const built: Options = { options: [], excluded: [], looked: 0, notices }
  const days = datesOf(context)
  const best = bestValueOf(context)
  const prices = seedPrices(season, context.reserve, ruleOf(season.rules, 'budget') !== undefined)
  for (const field of season.fields) {
    const open = season.windows.filter((window) => isPlantedIn(field, window))
    const ground = groundFor(context, field)
    const { programmes, looked, notices } = programmesOn(context, field, ground.levels)
    built.notices.push(...notices)
    for (const variety of season.varieties) {
      for (const window of open) {
        built.looked += looked
        const price = prices.get(variety.name)
        const day = days.get(window.name)?.get(variety.name) as Dates
        addOptions(context, { best, ground, programmes, field, variety, window, price, ...day }, built)
      }
    }
  }
  return built
}

/** Dates are slow to work out and the same on every field: by window and variety, once. */
function datesOf(context: Context): Map<string, Map<string, Dates>> {
  const { season } = context
  const of = (window: PlantingWindow, variety: Variety): Dates => {
    const planted = middleOf(window, season.season)
    return {
      planted,
      date: dateShareOf(context, planted, variety),
      digWeek: harvestWeek(window, variety, season.season),
    }
  }
  return new Map(
    season.windows.map((window) => [
      window.name,
      new Map(season.varieties.map((variety) => [variety.name, of(window, variety)])),
    ]),
  )
}

type Dates = Pick<Place, 'planted' | 'date' | 'digWeek'>

/** Monday of the week of digging: the middle of the window and the variety's days to maturity. ISO date. */
export function harvestWeek(window: PlantingWindow, variety: Variety, season: number): string {
  return weekOf(addDays(middleOf(window, season), variety.daysToMaturity))
}

interface Place {
  best: BestValue
  ground: Ground
  programmes: readonly Programme[]
  field: Field
  variety: Variety
  window: PlantingWindow
  digWeek: string
  /** ISO date, and its [share] of the best date's yield. */
  planted: string
  date: number
  price: SeedPrice | undefined
}

interface Candidate {
  programme: Programme
  /** By disease or pest, before practices. */
  shares: readonly number[]
  lossShare: number
  beforeLb: number
  could: number
  giveUp: number
  vine: number
  cash: number
  loss: number
  /** [cent/acre] yield given up and what the vine costs: not weighed by risk. */
  other: number
  pounds: number
  seedsPerFoot: number
  stand: number
  hours: number
}

function addOptions(context: Context, place: Place, built: Options): void {
  const { season, threats, hard, canopy } = context
  const { ground, programmes, field, variety, window } = place
  const perPound = dollarsPerPound(context.book, context.price, variety, silent) * 100
  const limitsLoss = hard.largestLosses.length > 0
  const ofProgramme = programmes.map(({ measures }) => reasonsOfProgramme(hard, field, variety, window, measures))
  const vine = context.vine[variety.vine][field.growth]
  const work = vineWorkOf(context, vine, variety)

  let nearest: { reasons: string[]; programme: Programme } | null = null
  let always: string[] = []
  const candidates: Candidate[] = []
  let first: number[] | undefined
  for (const { seedsPerFoot, stand } of ratesFor(context, field, variety, window)) {
    const at: Growing = { field, variety, window: window.kind, planted: place.planted, date: place.date, stand }
    const beforeLb = yieldBefore(context, ground, at, silent)
    const { could, crop, giveUp } = acreValue(context, place.best, ground, field, variety, beforeLb, 0)
    const shares: number[] = sharesOn(context, ground, at, silent, 'usual', first)
    first ??= shares
    const pounds = poundsPerAcre(seedsPerFoot, field.rowSpacingIn, variety.seedsPerPound)
    // The vine's cost is linear in what diseases leave: two of its values give all.
    const vineOf = [0, 1].map((lossShare) => vineCents(context, field, variety, crop, lossShare)) as [number, number]
    always = reasonsAlways(hard, field, variety, window, vine, stand)
    const isAllowed = always.length === 0
    for (const [at, programme] of programmes.entries()) {
      const own = ofProgramme[at] as string[]
      const ofLoss =
        limitsLoss && mayLoseTooMuch(context, shares, programme.leaves)
          ? reasonsOfLoss(hard, lossesAfter(threats, canopy, shares, programme.leaves))
          : []
      if (!isAllowed || own.length > 0 || ofLoss.length > 0) {
        const reasons = [...always, ...own, ...ofLoss]
        if (nearest === null || reasons.length < nearest.reasons.length) nearest = { reasons, programme }
        continue
      }
      const lossShare = lossShareAfter(threats, canopy, shares, programme.leaves)
      // Less what its practices add; the best that any could add is in what the ground could bring.
      const givenUp = context.countsYield ? Math.max(0, giveUp - programme.gainLb * perPound) : 0
      const vineCost = vineOf[1] + (1 - lossShare) * (vineOf[0] - vineOf[1])
      candidates.push({
        programme,
        shares,
        lossShare,
        beforeLb,
        could,
        giveUp: givenUp,
        vine: vineCost,
        cash: programme.cents + work.cents,
        loss: lossShare * crop,
        other: givenUp + vineCost,
        pounds,
        seedsPerFoot,
        stand,
        hours: 0,
      })
    }
  }
  if (candidates.length === 0) {
    built.excluded.push({
      field: field.name,
      variety: variety.name,
      window: window.name,
      reasons: nearest?.reasons ?? always,
      programme: nearest?.programme.names ?? [],
    })
    return
  }
  const shared = {
    field: field.name,
    variety: variety.name,
    window: window.name,
    planterHours: hoursPerAcre(season.machines, 'planter', 0),
    diggerHours: hoursPerAcre(season.machines, 'digger', vine.slowing),
    combineHours: hoursPerAcre(season.machines, 'combine', vine.slowing),
    harvestWeek: place.digWeek,
  }
  for (const kept of undominated(worthTheirSeed(candidates, place.price, field, context))) {
    built.options.push({
      ...shared,
      programme: kept.programme.names,
      seedsPerFoot: kept.seedsPerFoot,
      stand: kept.stand,
      seedPoundsPerAcre: kept.pounds,
      cashCents: kept.cash,
      losses: lossesAfter(threats, canopy, kept.shares, kept.programme.leaves),
      lossShare: kept.lossShare,
      yieldLb: kept.beforeLb * (1 - kept.lossShare) * (1 - vine.digLoss) + work.gainLb + kept.programme.gainLb,
      couldCents: kept.could,
      lossCents: kept.loss,
      vineCents: kept.vine,
      giveUpCents: kept.giveUp,
    })
  }
}

/**
 * False where no limit on a loss can be broken: what is laid to one leaf disease is worked out only where the limit is on one.
 * Asked for every set of practices at every rate.
 */
function mayLoseTooMuch({ hard, threats }: Context, shares: readonly number[], leaves: readonly number[]): boolean {
  return hard.largestLosses.some(
    ({ threat, most }) =>
      threats[threat]?.takes === 'leaves' || (shares[threat] as number) * (leaves[threat] as number) > most,
  )
}

/**
 * Leaves out a seeding rate that the same spray program beats at another rate whatever the seed costs: a thicker one that
 * does not pay at the least that its seed can cost, and a thinner one that does not pay at the most, unless the seed may run out.
 */
function worthTheirSeed(
  candidates: readonly Candidate[],
  price: SeedPrice | undefined,
  field: Field,
  { riskWeight }: Context,
): Candidate[] {
  if (price === undefined) return [...candidates]
  const total = (each: Candidate, perPound = 0) =>
    each.cash + riskWeight * each.loss + each.other + perPound * each.pounds
  const byProgramme = Map.groupBy(candidates, ({ programme }) => programme)
  return candidates.filter((each) =>
    (byProgramme.get(each.programme) as Candidate[]).every((other) => {
      if (other.pounds < each.pounds)
        return total(each) + leastExtra(price, field, other.pounds, each.pounds) < total(other)
      if (other.pounds > each.pounds && !price.isLimited) return total(each, price.most) <= total(other, price.most)
      return true
    }),
  )
}
