/**
 * The plan in hand under other years, not solved again: what is paid, risked and left over, with ranges. And the
 * regret, for which the hard year is solved once: what it costs to have planned for the wrong year.
 */
import { plantedCents } from '../../../src-shared/agronomy/acre-money.ts'
import { acreMoney, placeOf, plannedDrop } from '../../../src-shared/agronomy/block-money.ts'
import { contextOf, type Context } from '../../../src-shared/agronomy/context.ts'
import { dropFor } from '../../../src-shared/agronomy/drop.ts'
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
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import { ok, type Result } from '../../../src-shared/problem.ts'
import { ruleOf } from '../../../src-shared/rule.ts'
import type { Season } from '../../../src-shared/season.ts'
import { showDollars } from '../../../src-shared/show.ts'
import { openCents } from './figure.ts'
import { changedFields } from './next-best.ts'
import { priceSeason, type OfferedSeason } from './price.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'
import { seasonIn } from './year-season.ts'

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

function yearOf(name: YearName, planned: Context, plan: Plan): Year {
  const { season, says } = seasonIn(name, planned.season, planned)
  const context = contextOf(season)
  const perAcre = plantedCents(context)
  const sum = { crop: 0, cash: 0, planted: 0, low: 0, usual: 0, high: 0, vine: 0, giveUp: 0 }
  const needed = new Map<string, { pounds: number; acres: number }>()
  for (const block of plan.blocks) {
    const at = placeOf(context, block)
    const before = placeOf(planned, block)
    if (at === undefined || before === undefined) continue
    // Seed is dropped as planned, except that weaker seed is dropped thicker where a stand is aimed at.
    const aimsAtStand = name === 'weak seed' && at.field.drop?.kind === 'stand'
    const drop = aimsAtStand ? dropFor(context, at.field, at.variety, at.window) : plannedDrop(planned, before, block)
    const acre = acreMoney(context, at, block.programme, drop.seedsPerFoot)
    const cents = (each: number) => Math.round(each * block.acres)
    sum.crop += cents(acre.crop)
    sum.cash += cents(acre.cash)
    sum.planted += cents(perAcre)
    sum.low += cents(acre.loss.low)
    sum.usual += cents(acre.loss.usual)
    sum.high += cents(acre.loss.high)
    sum.vine += cents(acre.vine)
    sum.giveUp += cents(acre.giveUp)
    const need = needed.get(block.variety) ?? { pounds: 0, acres: 0 }
    need.pounds += block.acres * poundsPerAcre(drop.seedsPerFoot, at.field.rowSpacingIn, at.variety.seedsPerPound)
    need.acres += block.acres
    needed.set(block.variety, need)
  }
  const seedShort = shortOf(season, plan, needed)
  const seedShortCents = seedShort.reduce((total, short) => total + (short.cents ?? 0), 0)
  const cashCents = plan.totals.seedCents + sum.cash
  const leftWith = (lossCents: number) => sum.crop - cashCents - sum.planted - lossCents - sum.vine - seedShortCents
  return {
    name,
    says,
    crop: same(sum.crop),
    cashCents,
    loss: { lowCents: sum.low, cents: sum.usual, highCents: sum.high },
    plantedCents: sum.planted,
    vineCents: sum.vine,
    giveUpCents: sum.giveUp,
    seedShortCents,
    seedShort,
    left: { lowCents: leftWith(sum.high), cents: leftWith(sum.usual), highCents: leftWith(sum.low) },
    worseCents: 0,
  }
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
