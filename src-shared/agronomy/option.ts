/**
 * Options: one variety, planting week, spray program and seeding rate for one field, priced. What a hard rule forbids is
 * returned beside them with every reason. Of the programs and rates of one field, variety and week only the undominated
 * stay. Long because pruning reads what pricing knows of each.
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
import { isUninsured, reasonsAlways, reasonsOfLoss, reasonsOfProgramme, uninsuredReason } from './hard-rules.ts'
import { plantingWeeks, ripeOn, type PlantingWeek } from './calendar.ts'
import { hoursPerAcre } from './harvest.ts'
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
  /** Monday of the planting week, ISO date. */
  week: string
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
  /** The best day to dig it, a Monday or a Thursday. ISO date. */
  ripe: string
  /** [acre of a plain vine] that an acre is to digger and combine. */
  work: number
  /** [lb/acre] and [cent/acre] of which digging off the best day takes a share; no cents where yield is left out. */
  cropLb: number
  cropCents: number
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
  const weeks = weeksOf(context)
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
        const own = weeks.get(window.name)?.get(variety.name) as Dated[]
        addOptions(context, { best, ground, programmes, field, variety, window, price, weeks: own }, built)
      }
    }
  }
  return built
}

/** What a planting week is to a variety: the same on every field. */
interface Dated {
  week: string
  /** ISO date */
  planted: string
  /** [share] of the best date's yield. */
  date: number
  ripe: string
}

/** Dates are slow to work out: by window and variety, once. Weeks that the rules forbid are not among them. */
function weeksOf(context: Context): Map<string, Map<string, Dated[]>> {
  const { season, book, calendar } = context
  const byWindow = Map.groupBy(
    plantingWeeks(season).filter(({ planted }) => !isUninsured(context, planted)),
    ({ window }) => window.name,
  )
  const of = ({ week, planted }: PlantingWeek, variety: Variety): Dated => ({
    week,
    planted,
    date: dateShareOf(context, planted, variety),
    ripe: ripeOn(calendar, book, planted, variety.daysToMaturity),
  })
  return new Map(
    season.windows.map(({ name }) => [
      name,
      new Map(
        season.varieties.map((variety) => [
          variety.name,
          (byWindow.get(name) ?? []).map((week): Dated => of(week, variety)),
        ]),
      ),
    ]),
  )
}

interface Place {
  best: BestValue
  ground: Ground
  programmes: readonly Programme[]
  field: Field
  variety: Variety
  window: PlantingWindow
  weeks: readonly Dated[]
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
  const { ground, programmes, field, variety, window, weeks } = place
  const perPound = dollarsPerPound(context.book, context.price, variety, silent) * 100
  const limitsLoss = hard.largestLosses.length > 0
  const ofProgramme = programmes.map(({ measures }) => reasonsOfProgramme(hard, field, variety, window, measures))
  const vine = context.vine[variety.vine][field.growth]
  const work = vineWorkOf(context, vine, variety)

  let nearest: { reasons: string[]; programme: Programme } | null = null
  let always: string[] = []
  const candidates = new Map<Dated, Candidate[]>(weeks.map((week) => [week, []]))
  let first: number[] | undefined
  for (const { seedsPerFoot, stand } of ratesFor(context, field, variety, window)) {
    // Everything but the date is the same in every week of the window.
    const at: Growing = { field, variety, window: window.kind, planted: '', date: 1, stand }
    const bestLb = yieldBefore(context, ground, at, silent)
    const shares: number[] = sharesOn(context, ground, at, silent, 'usual', first)
    first ??= shares
    const pounds = poundsPerAcre(seedsPerFoot, field.rowSpacingIn, variety.seedsPerPound)
    always = [
      ...reasonsAlways(hard, field, variety, window, vine, stand),
      ...(weeks.length === 0 ? [uninsuredReason(context)] : []),
    ]
    const dated = weeks.map((week) => {
      const beforeLb = bestLb * week.date
      const value = acreValue(context, place.best, ground, field, variety, beforeLb, 0)
      // The vine's cost is linear in what diseases leave: two of its values give all.
      const vineOf = [0, 1].map((lossShare) => vineCents(context, field, variety, value.crop, lossShare))
      return { week, beforeLb, ...value, vineOf: vineOf as [number, number] }
    })
    const isAllowed = always.length === 0
    for (const [index, programme] of programmes.entries()) {
      const own = ofProgramme[index] as string[]
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
      for (const { week, beforeLb, could, crop, giveUp, vineOf } of dated) {
        // Less what its practices add; the best that any could add is in what the ground could bring.
        const givenUp = context.countsYield ? Math.max(0, giveUp - programme.gainLb * perPound) : 0
        const vineCost = vineOf[1] + (1 - lossShare) * (vineOf[0] - vineOf[1])
        candidates.get(week)?.push({
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
  }
  if ([...candidates.values()].every((own) => own.length === 0)) {
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
    work: 1 + vine.slowing,
  }
  for (const [{ week, ripe }, own] of candidates) {
    for (const kept of undominated(worthTheirSeed(own, place.price, field, context))) {
      const cropLb = kept.beforeLb * (1 - kept.lossShare) * (1 - vine.digLoss)
      built.options.push({
        ...shared,
        week,
        ripe,
        programme: kept.programme.names,
        seedsPerFoot: kept.seedsPerFoot,
        stand: kept.stand,
        seedPoundsPerAcre: kept.pounds,
        cashCents: kept.cash,
        losses: lossesAfter(threats, canopy, kept.shares, kept.programme.leaves),
        lossShare: kept.lossShare,
        yieldLb: cropLb + work.gainLb + kept.programme.gainLb,
        couldCents: kept.could,
        lossCents: kept.loss,
        vineCents: kept.vine,
        giveUpCents: kept.giveUp,
        cropLb,
        cropCents: context.countsYield ? cropLb * perPound : 0,
      })
    }
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
