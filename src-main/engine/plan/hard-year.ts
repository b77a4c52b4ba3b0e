/**
 * The plan in hand under other years, not solved again: what is paid, risked and left over, with ranges. And the
 * regret, for which the hard year is solved once: what it costs to have planned for the wrong year.
 */
import { plantedCents } from '../../../src-shared/agronomy/acre-money.ts'
import { acreMoney, placeOf, plannedDrop, type AcreMoney } from '../../../src-shared/agronomy/block-money.ts'
import { daysOff, digShare, fitDaysIn, ripeOn } from '../../../src-shared/agronomy/calendar.ts'
import { contextOf, type Context } from '../../../src-shared/agronomy/context.ts'
import { dropFor } from '../../../src-shared/agronomy/drop.ts'
import { fallWeeks, weekMoved, type Dug } from '../../../src-shared/agronomy/fall-weeks.ts'
import { daysBetween } from '../../../src-shared/agronomy/harvest.ts'
import { poundsPerAcre } from '../../../src-shared/agronomy/seed.ts'
import {
  yearNames,
  type CentsRange,
  type HardYear,
  type Regret,
  type SeedShort,
  type Year,
  type YearName,
} from '../../../src-shared/hard-year.ts'
import type { Plan, PlantedPart, SolvedPlan } from '../../../src-shared/plan.ts'
import { partsOf } from '../../../src-shared/planted-part.ts'
import { ok, type Result } from '../../../src-shared/problem.ts'
import { ruleOf } from '../../../src-shared/rule.ts'
import type { Season } from '../../../src-shared/season.ts'
import { showDollars } from '../../../src-shared/show.ts'
import { openCents } from './figure.ts'
import { changedFields } from './next-best.ts'
import { priceSeason, type OfferedSeason } from './price.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'
import { frostIn, LATE_DAYS, seasonIn } from './year-season.ts'

/** The plan in hand in every kind of year, and what a plan for the wrong one costs: one solve for each year. */
export async function hardYear(
  season: OfferedSeason,
  inHand: SolvedPlan & { plan: Plan },
  options: AgainOptions,
  solver: Solver,
): Promise<Result<HardYear>> {
  const regret = await regretOf(season, inHand, options, solver)
  return regret.ok ? ok({ years: yearsOf(season, inHand.plan), regret: regret.value }) : regret
}

/** The plan in every kind of year, the usual one first. @param season the one that the plan was made from */
export function yearsOf(season: Season, plan: Plan): Year[] {
  const context = contextOf(season)
  const years = yearNames.map((name) => yearOf(name, context, plan))
  const usual = years[0] as Year
  return years.map((year) => ({ ...year, worseCents: usual.left.cents - year.left.cents }))
}

/** A part of a block as a year has it. */
interface PartIn {
  part: PlantedPart
  acre: AcreMoney
  /** ISO date: the best day to dig it in this year. */
  ripe: string
  /** [acre of a plain vine] per acre. */
  work: number
}

function yearOf(name: YearName, planned: Context, plan: Plan): Year {
  const { season, says } = seasonIn(name, planned.season, planned)
  const context = contextOf(season)
  const lateBy = name === 'late spring' ? LATE_DAYS : 0
  const perAcre = plantedCents(context)
  const sum = { crop: 0, cash: 0, planted: 0, low: 0, usual: 0, high: 0, vine: 0, giveUp: 0 }
  const needed = new Map<string, { pounds: number; acres: number }>()
  const inGround: PartIn[] = []
  for (const block of plan.blocks) {
    const cents = (each: (acre: AcreMoney) => number, own: readonly PartIn[]) =>
      Math.round(own.reduce((all, { part, acre }) => all + part.acres * each(acre), 0))
    const own: PartIn[] = []
    for (const part of partsOf(block)) {
      const week = part.week === '' ? '' : weekMoved(part.week, lateBy)
      const at = placeOf(context, { ...block, window: part.window, week })
      const before = placeOf(planned, { ...block, window: part.window, week: part.week })
      if (at === undefined || before === undefined) continue
      // Seed is dropped as planned, except that weaker seed is dropped thicker where a stand is aimed at.
      const aimsAtStand = name === 'weak seed' && at.field.drop?.kind === 'stand'
      const drop = aimsAtStand ? dropFor(context, at.field, at.variety, at.window) : plannedDrop(planned, before, block)
      const acre = acreMoney(context, at, block.programme, drop.seedsPerFoot)
      const { slowing } = context.vine[at.variety.vine][at.field.growth]
      const ripe =
        week === '' ? '' : ripeOn(context.calendar, context.book, at.plantedOn as string, at.variety.daysToMaturity)
      own.push({ part, acre, ripe, work: 1 + slowing })
      const need = needed.get(block.variety) ?? { pounds: 0, acres: 0 }
      need.pounds += part.acres * poundsPerAcre(drop.seedsPerFoot, at.field.rowSpacingIn, at.variety.seedsPerPound)
      need.acres += part.acres
      needed.set(block.variety, need)
    }
    inGround.push(...own)
    sum.crop += cents(({ crop }) => crop, own)
    sum.cash += cents(({ cash }) => cash, own)
    sum.planted += cents(() => perAcre, own)
    sum.low += cents(({ loss }) => loss.low, own)
    sum.usual += cents(({ loss }) => loss.usual, own)
    sum.high += cents(({ loss }) => loss.high, own)
    sum.vine += cents(({ vine }) => vine, own)
    sum.giveUp += cents(({ giveUp }) => giveUp, own)
  }
  const digLossCents = digLoss(name, context, inGround)
  const seedShort = shortOf(season, plan, needed)
  const seedShortCents = seedShort.reduce((total, short) => total + (short.cents ?? 0), 0)
  const cashCents = plan.totals.seedCents + sum.cash
  const leftWith = (lossCents: number) =>
    sum.crop - cashCents - sum.planted - lossCents - sum.vine - digLossCents - seedShortCents
  return {
    name,
    says,
    crop: same(sum.crop),
    cashCents,
    loss: { lowCents: sum.low, cents: sum.usual, highCents: sum.high },
    plantedCents: sum.planted,
    vineCents: sum.vine,
    giveUpCents: sum.giveUp + digLossCents,
    digLossCents,
    seedShortCents,
    seedShort,
    left: { lowCents: leftWith(sum.high), cents: leftWith(sum.usual), highCents: leftWith(sum.low) },
    worseCents: 0,
  }
}

/**
 * [cent] lost by digging off the best day. Where nothing moves a day, as planned; else the fall is played through in the
 * order of the plan, and what the weather leaves undone waits.
 */
function digLoss(name: YearName, context: Context, parts: readonly PartIn[]): number {
  const { calendar, book, season } = context
  const moves = name === 'late spring' || name === 'wet fall' || name === 'early frost'
  const lines = parts.flatMap(({ part, acre, ripe, work }) =>
    part.dug.map((dug) => ({ acre, dug, was: part.ripe, ripe: moves ? ripe : part.ripe, work })),
  )
  if (!moves) {
    return lines.reduce((sum, { acre, dug, ripe }) => {
      const lost = 1 - digShare(calendar, book, daysOff(dug.week, ripe))
      return sum + Math.round(dug.acres * lost * acre.inGround)
    }, 0)
  }
  const share = name === 'wet fall' ? book.number('calendar/bad year') : 1
  const limited = season.machines.filter(({ kind }) => kind === 'planter' || ruleOf(season.rules, `${kind}-hours`))
  const frost = name === 'early frost' ? frostIn(context) : undefined
  const dug = fallWeeks(
    calendar,
    book,
    limited,
    lines.map(({ acre, dug: { week, acres }, was, ripe, work }) => ({
      acres,
      work,
      ripe,
      week: weekMoved(week, daysBetween(was, ripe)),
      cents: acre.inGround,
    })),
    { fitDays: (kind, week) => share * fitDaysIn(calendar, kind, week), ...(frost === undefined ? {} : { frost }) },
  )
  return lines.reduce((sum, { acre, dug: { acres } }, at) => {
    const lost = (dug[at] as Dug).lost
    return sum + Math.round(acres * lost * acre.inGround)
  }, 0)
}

function same(cents: number): CentsRange {
  return { lowCents: cents, cents, highCents: cents }
}

/** The reserve is there to be used, so only what goes beyond everything bought and carried is missing. */
function shortOf(
  season: Season,
  plan: Plan,
  needed: ReadonlyMap<string, { pounds: number; acres: number }>,
): SeedShort[] {
  return [...needed].flatMap(([variety, need]): SeedShort[] => {
    const bought = plan.purchases.reduce((sum, line) => sum + (line.variety === variety ? line.pounds : 0), 0)
    const carried = season.carried.reduce((sum, each) => sum + (each.variety === variety ? each.pounds : 0), 0)
    const pounds = need.pounds - bought - carried
    if (pounds <= 1e-6) return []
    const [dearest] = season.quotes
      .filter((quote) => quote.variety === variety)
      .sort((a, b) => b.packPriceCents / b.packPounds - a.packPriceCents / a.packPounds)
    const cents = dearest ? Math.ceil(pounds / dearest.packPounds - 1e-9) * dearest.packPriceCents : null
    return [{ variety, pounds, acres: (pounds / need.pounds) * need.acres, cents }]
  })
}

/** [cent] what the house makes least, of a plan in a year. */
function costIn(year: Year, plan: Plan, riskWeight: number): number {
  const { cashCents, loss, vineCents, giveUpCents, seedShortCents } = year
  return cashCents + riskWeight * loss.cents + vineCents + giveUpCents + seedShortCents + plan.totals.leftOutCents
}

async function regretOf(
  season: OfferedSeason,
  inHand: SolvedPlan & { plan: Plan },
  options: AgainOptions,
  solver: Solver,
): Promise<Result<Regret>> {
  const context = contextOf(season)
  const none = (says: string): Result<Regret> =>
    ok({ hardPlanInUsualYear: null, planInHardYear: null, otherFields: [], uncertainCents: 0, says })
  const priced = priceSeason(seasonIn('hard', season, context).season)
  const nothingFits = 'No plan keeps the house’s rules in a hard year.'
  if (!priced.ok) return none([nothingFits, ...priced.problems.slice(0, 1).map(({ what }) => what)].join(' '))
  const solved = await solveAgain(priced.value.problem, inHand.plan, options, solver)
  if (!solved.ok) return solved
  const hardPlan = solved.value.plan
  if (hardPlan === null) {
    return none(
      solved.value.proof.status === 'nothing-fits' ? nothingFits : 'A plan for the hard year was not found in time.',
    )
  }
  const weight = ruleOf(season.rules, 'risk-weight')?.amount ?? 1
  const cost = (plan: Plan, year: YearName) => costIn(yearOf(year, context, plan), plan, weight)
  const hardPlanInUsualYear = cost(hardPlan, 'usual') - cost(inHand.plan, 'usual')
  const planInHardYear = cost(inHand.plan, 'hard') - cost(hardPlan, 'hard')
  const otherFields = changedFields(inHand.plan, hardPlan)
  const uncertainCents = openCents(inHand.proof) + openCents(solved.value.proof)
  return ok({
    hardPlanInUsualYear,
    planInHardYear,
    otherFields,
    uncertainCents,
    says:
      otherFields.length === 0
        ? 'A plan made for the hard year would be the same.'
        : `A plan made for the hard year would cost ${showDollars(hardPlanInUsualYear)} more in a usual year and save ${showDollars(planInHardYear)} in a hard one.`,
  })
}
