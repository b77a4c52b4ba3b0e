/** Season → priced problem: the agronomy has its say here, once; from here on only numbers count. Pure. */
import { bestValueOf, couldCents, plantedCents } from '../../../src-shared/agronomy/acre-money.ts'
import { contextOf, type Context, type UnusualSeason } from '../../../src-shared/agronomy/context.ts'
import { groundFor } from '../../../src-shared/agronomy/crop.ts'
import { digWeeksFor, fitDaysIn, type FieldWork } from '../../../src-shared/agronomy/calendar.ts'
import { weekHours } from '../../../src-shared/agronomy/harvest.ts'
import { eachOption, type Excluded, type Option } from '../../../src-shared/agronomy/option.ts'
import type { Field } from '../../../src-shared/field.ts'
import { planProblemVersion, type PlanProblem, type ProblemOption } from '../../../src-shared/plan-problem.ts'
import { fail, ok, type Problem, type Result } from '../../../src-shared/problem.ts'
import { dealerTableProblems } from '../../../src-shared/price-table.ts'
import { quoteTitle } from '../../../src-shared/quote.ts'
import { ruleOf, type RuleKind } from '../../../src-shared/rule.ts'
import type { Season } from '../../../src-shared/season.ts'
import type { MachineKind } from '../../../src-shared/window.ts'

export interface Priced {
  problem: PlanProblem
  context: Context
  excluded: Excluded[]
  /** Programmes there are, before those that another beats were dropped. */
  looked: number
  /** What has to be said beside the plan: see `Options.notices`. */
  notices: Problem[]
}

/** A season of which seed is on order: its packs cost nothing more, and its money is told apart. */
export interface OfferedSeason extends UnusualSeason {
  /** Packs on order by title of the quote that stands for them: they are in every plan. */
  orderedPacks?: ReadonlyMap<string, number>
  /** [cent] in every plan, whatever it buys. */
  onOrderCents?: number
}

/**
 * Prices every option of a season. What plainly cannot be planned is said here, in the manager's words,
 * before any solver is asked.
 */
export function priceSeason(whole: OfferedSeason): Result<Priced> {
  const season = inPeanut(whole)
  const isAllResting = whole.fields.length > 0 && season.fields.length === 0
  const missing = [...missingIn(season, isAllResting), ...unreadableTables(season)]
  if (missing.length > 0) return fail(...missing)
  const context = contextOf(season)
  const options: ProblemOption[] = []
  const { excluded, looked, notices } = eachOption(context, (option) => options.push(problemOption(option)))
  const stuck = fieldsWithoutOption(season, options, excluded)
  if (stuck.length > 0) return fail(...stuck)
  return ok({ problem: problemOf(season, context, options), context, excluded, looked, notices })
}

/** The season without the fields that rest, and without locks on them. */
function inPeanut(season: OfferedSeason): OfferedSeason {
  const resting = new Set(season.fields.filter(({ rests }) => rests).map(({ name }) => name))
  if (resting.size === 0) return season
  return {
    ...season,
    fields: season.fields.filter(({ name }) => !resting.has(name)),
    locks: season.locks.filter(({ field }) => !resting.has(field)),
    exclusions: season.exclusions.filter(({ field }) => field === undefined || !resting.has(field)),
  }
}

function missingIn(season: Season, isAllResting: boolean): Problem[] {
  const need = (list: readonly unknown[], what: string, remedy: string): Problem[] =>
    list.length > 0 ? [] : [{ code: 'missing', what: `There are no ${what} yet.`, where: { path: what }, remedy }]
  return [
    ...(isAllResting
      ? [
          {
            code: 'missing' as const,
            what: 'Every field rests this season.',
            where: { path: 'fields' },
            remedy: 'Clear Rests on the page Fields for the fields that you plant in peanut.',
          },
        ]
      : need(season.fields, 'fields', 'Enter or paste the fields first.')),
    ...need(season.varieties, 'varieties', 'Enter the varieties that could be planted.'),
    ...need(season.windows, 'windows', 'Enter at least one planting window.'),
    ...need(season.quotes, 'quotes', "Enter the dealers' quotes."),
  ]
}

/** A break that takes off more than seed costs: two tables that each read well and cannot both be true. */
function unreadableTables(season: OfferedSeason): Problem[] {
  return season.dealers.flatMap((dealer) => {
    const quotes = season.quotes
      .filter((quote) => quote.dealer === dealer.name)
      .map((quote) => ({ ...quote, orderedPacks: season.orderedPacks?.get(quoteTitle(quote)) }))
    return dealerTableProblems(dealer, quotes).map(({ what, remedy }): Problem => ({
      code: 'bad-value',
      what: `${dealer.name}: ${what}.`,
      where: { table: 'dealer', column: 'breaks', name: dealer.name },
      remedy,
    }))
  })
}

/** A field that nothing may be planted on, unless fields may be left out: said with the reasons. */
function fieldsWithoutOption(
  season: Season,
  options: readonly ProblemOption[],
  excluded: readonly Excluded[],
): Problem[] {
  if (ruleOf(season.rules, 'may-rest')) return []
  const served = new Set(options.map((option) => option.field))
  return season.fields
    .filter((field) => !served.has(field.name))
    .map((field) => {
      const own = excluded.filter((each) => each.field === field.name)
      const reasons = [...new Set(own.flatMap((each) => each.reasons))]
      return {
        code: 'nothing-fits',
        what: `No variety may be planted on ${field.name}. ${reasons.join(' ')}`.trim(),
        where: { table: 'field', name: field.name },
        remedy: 'Loosen one of these rules, add a measure or a variety, or allow the field to be left out.',
      }
    })
}

function problemOf(season: OfferedSeason, context: Context, options: ProblemOption[]): PlanProblem {
  const { rules } = season
  const isOn = (kind: RuleKind) => ruleOf(rules, kind) !== undefined
  const amount = (kind: RuleKind) => ruleOf(rules, kind)?.amount
  const planted = plantedCents(context)
  const best = bestValueOf(context)
  const digging = [...new Set(options.map(({ ripe }) => ripe))]
    .sort()
    .map((ripe) => ({ ripe, weeks: digWeeksFor(context.calendar, context.book, ripe) }))
  const dug = digging.flatMap(({ weeks }) => weeks)
  const hoursBy = (kind: MachineKind, work: FieldWork, weeks: readonly string[]) =>
    isOn(`${kind}-hours`) && season.machines.some((machine) => machine.kind === kind)
      ? [...new Set(weeks)].sort().map((week) => ({
          in: week,
          hours: weekHours(season.machines, kind, week, fitDaysIn(context.calendar, work, week)),
        }))
      : []
  return {
    format: 'standwell-problem',
    version: planProblemVersion,
    name: `${season.farm.name} ${season.season}`,
    fields: season.fields.map((field) => {
      const could = couldCents(context, best, groundFor(context, field), field) - planted
      const otherCents = field.otherCents ?? amount('may-rest') ?? 0
      const leaveOutCents = could - otherCents
      return {
        id: field.name,
        acres: field.acres,
        couldCents: context.countsYield ? could : undefined,
        otherCents,
        leaveOutCents,
        split: splitOf(field),
      }
    }),
    varieties: season.varieties.map((variety) => ({ id: variety.name, oilType: variety.oilType })),
    options,
    digging,
    dealers: season.dealers.map((dealer) => ({
      id: dealer.name,
      orderFeeCents: dealer.orderFeeCents,
      leastPounds: dealer.leastPounds,
      mostPounds: dealer.mostPounds,
      breaks: dealer.breaks,
    })),
    quotes: season.quotes.map((quote) => ({
      id: quoteTitle(quote),
      dealer: quote.dealer,
      variety: quote.variety,
      packPounds: quote.packPounds,
      packPriceCents: quote.packPriceCents,
      availablePacks: quote.availablePacks,
      leastPacks: quote.leastPacks,
      orderedPacks: season.orderedPacks?.get(quoteTitle(quote)),
      breaks: quote.breaks,
    })),
    carried: season.carried.map(({ variety, pounds, mustUse }) => ({ variety, pounds, mustUse })),
    rules: {
      riskWeight: amount('risk-weight') ?? 1,
      reserve: context.reserve,
      largestShare: rules
        .filter((rule) => rule.isOn && rule.rule === 'largest-share')
        .map((rule) => ({ variety: rule.subject, share: rule.amount ?? 1 })),
      fewestVarieties: amount('fewest-varieties'),
      mostVarieties: amount('most-varieties'),
      mostDealers: amount('most-dealers'),
      budgetCents: amount('budget'),
      onOrderCents: season.onOrderCents,
      contracts: rules
        .filter((rule) => rule.isOn && rule.rule === 'contract')
        .map((rule) => ({ oilType: rule.subject ?? '', acres: rule.amount ?? 0 })),
      planterHours: hoursBy(
        'planter',
        'planting',
        options.map(({ week }) => week),
      ),
      diggerHours: hoursBy(
        'digger',
        'digging',
        dug.map(({ week }) => week),
      ),
      combineHours: hoursBy(
        'combine',
        'combining',
        dug.flatMap(({ combined }) => combined.map(({ week }) => week)),
      ),
      leaveOutCents: isOn('may-rest') ? 0 : undefined,
      locks: season.locks,
      exclusions: season.exclusions,
      stayPut: undefined,
    },
  }
}

/** What the plan needs of an option. */
function problemOption(option: Option): ProblemOption {
  return {
    field: option.field,
    variety: option.variety,
    window: option.window,
    week: option.week,
    programme: option.programme,
    cashCents: option.cashCents,
    lossCents: option.lossCents,
    vineCents: option.vineCents,
    giveUpCents: option.giveUpCents,
    yieldLb: option.yieldLb,
    poundsPerAcre: option.seedPoundsPerAcre,
    planterHours: option.planterHours,
    diggerHours: option.diggerHours,
    combineHours: option.combineHours,
    digWeek: '',
    combineWeek: '',
    ripe: option.ripe,
    work: option.work,
    cropLb: option.cropLb,
    cropCents: option.cropCents,
  }
}

function splitOf(field: Field): PlanProblem['fields'][number]['split'] {
  return field.split && { leastBlockAcres: field.split.leastBlockAcres, mostVarieties: field.split.mostVarieties }
}
