/**
 * The solver's own input: options already priced, supply and rules. It stands on its own, so that the solver
 * can be checked without any agronomy (`standwell solve FILE`). Money is in cents; where a price an acre is
 * given it may have a fraction of a cent. Pounds can be any unit of seed, acres any unit of ground.
 */
import * as v from 'valibot'
import { acres, between, fraction, wholeBetween } from './primitive.ts'
import { fail, ok, type Problem, type Result } from './problem.ts'
import { dealerTableProblems, quoteTableProblems, type TableProblem } from './price-table.ts'
import { dealerBreakSchema } from './quote.ts'
import { problemsFrom } from './read-file.ts'

export const planProblemVersion = 1

const id = v.pipe(v.string('must be text'), v.minLength(1, 'must not be empty'), v.maxLength(200))
const money = between(-1e12, 1e12)
const amount = between(0, 1e12)

const problemField = v.strictObject({
  id,
  acres,
  /** [cent/acre] What the ground could bring, less what every planted acre costs; absent where yield is left out. */
  couldCents: v.optional(money),
  /** [cent/acre] What the ground brings otherwise, where it is left out. */
  otherCents: v.optional(money, 0),
  /** [cent/acre] counted where the field is left out; absent: as the rule has it. */
  leaveOutCents: v.optional(money),
  /** Absent: the whole field goes to one option. */
  split: v.optional(
    v.strictObject({
      /** [acre] least size of a block; 0 lets shares be any. */
      leastBlockAcres: v.optional(between(0, 100_000), 0),
      /** Absent: no limit. */
      mostVarieties: v.optional(wholeBetween(1, 10_000)),
    }),
  ),
})

const problemVariety = v.strictObject({ id, oilType: v.optional(id) })

const problemOption = v.strictObject({
  field: id,
  variety: id,
  window: v.optional(v.string(), ''),
  /** Planting week, by which planter hours go; '' where they go by window. */
  week: v.optional(v.string(), ''),
  programme: v.optional(v.array(id), []),
  /** [cent/acre] paid, without seed. */
  cashCents: v.optional(money, 0),
  /** [cent/acre] expected loss, weighted by `riskWeight`. */
  lossCents: v.optional(money, 0),
  vineCents: v.optional(money, 0),
  giveUpCents: v.optional(money, 0),
  /** [lb/acre] expected of the crop. */
  yieldLb: v.optional(amount, 0),
  /** [lb/acre] of seed, without the reserve. */
  poundsPerAcre: amount,
  /** [machine-hour/acre] */
  planterHours: v.optional(amount, 0),
  diggerHours: v.optional(amount, 0),
  combineHours: v.optional(amount, 0),
  /** Names of the weeks whose hours are used, where they are fixed. */
  digWeek: v.optional(v.string(), ''),
  combineWeek: v.optional(v.string(), ''),
  /** Where they are not: the queue in which it waits to be dug, by the day on which it is ripe. */
  ripe: v.optional(v.string(), ''),
  /** [acre of a plain vine] that an acre is to digger and combine. */
  work: v.optional(between(1e-3, 1e3), 1),
  /** [lb/acre] and [cent/acre] of which digging off the best day takes a share. */
  cropLb: v.optional(amount, 0),
  cropCents: v.optional(amount, 0),
})

/** Weeks in which what is ripe on a day may be dug: the plan puts acres into any of them. */
const problemQueue = v.strictObject({
  ripe: id,
  weeks: v.pipe(
    v.array(
      v.strictObject({
        week: id,
        /** [share] of the crop that is lost by digging it then. */
        lost: fraction,
        /** Weeks in which it is combined, with the share of the acres. */
        combined: v.optional(v.array(v.strictObject({ week: id, share: fraction })), []),
      }),
    ),
    v.minLength(1, 'must hold at least one week'),
  ),
})

const problemDealer = v.strictObject({
  id,
  /** [cent] charged once if anything is bought. */
  orderFeeCents: v.optional(between(0, 1e12), 0),
  leastPounds: v.optional(amount, 0),
  mostPounds: v.optional(amount),
  breaks: v.optional(v.array(dealerBreakSchema), []),
})

const problemQuote = v.strictObject({
  id,
  dealer: id,
  variety: id,
  /** [lb/pack]; absent: sold loose, in any amount, and prices, limits and breaks are a pound. */
  packPounds: v.optional(between(1e-6, 1e9)),
  /** [cent/pack], or [cent/lb] when loose. */
  packPriceCents: between(0, 1e12),
  availablePacks: v.optional(amount),
  leastPacks: v.optional(amount, 0),
  /** Packs that are on order already: they are in every plan, and nothing more is bought of this quote. */
  orderedPacks: v.optional(amount),
  breaks: v.optional(v.array(v.strictObject({ fromPacks: between(1e-6, 1e12), packPriceCents: between(0, 1e12) })), []),
})

const hours = v.optional(v.array(v.strictObject({ in: v.string(), hours: amount })), [])

const problemRules = v.strictObject({
  /** Dollars of cash that a dollar of expected loss counts. */
  riskWeight: v.optional(between(0, 1000), 1),
  /** [share] of seed bought beyond the need. */
  reserve: v.optional(between(0, 10), 0),
  /** [share] of all acres; without a variety it holds for each. */
  largestShare: v.optional(v.array(v.strictObject({ variety: v.optional(id), share: fraction })), []),
  fewestVarieties: v.optional(wholeBetween(0, 10_000)),
  mostVarieties: v.optional(wholeBetween(0, 10_000)),
  mostDealers: v.optional(wholeBetween(0, 10_000)),
  /** [cent] for seed and measures. */
  budgetCents: v.optional(between(0, 1e13)),
  /** [cent] of the budget that is on order already: the same in every plan, and in no price of this problem. */
  onOrderCents: v.optional(between(0, 1e13)),
  /** [cent] of expected loss over all ground, unweighted. */
  lossLimitCents: v.optional(between(0, 1e13)),
  contracts: v.optional(v.array(v.strictObject({ oilType: id, acres: amount })), []),
  planterHours: hours,
  diggerHours: hours,
  combineHours: hours,
  /** [cent/acre] counted for ground left out; absent: every acre is planted. */
  leaveOutCents: v.optional(between(0, 1e12)),
  /** What must be planted: a field, whatever the price of leaving it out; a variety, somewhere; or both together. */
  planted: v.optional(v.array(v.strictObject({ field: v.optional(id), variety: v.optional(id) }))),
  locks: v.optional(
    v.array(
      v.strictObject({
        field: id,
        variety: id,
        window: v.optional(v.string()),
        week: v.optional(v.string()),
        /** [acre] At least so many; absent: the whole field, with nothing else on it. */
        acres: v.optional(acres),
      }),
    ),
    [],
  ),
  exclusions: v.optional(
    v.array(v.strictObject({ field: v.optional(id), variety: v.optional(id), window: v.optional(v.string()) })),
    [],
  ),
  /** Plan in hand, and what a field's move to another variety must save. */
  stayPut: v.optional(
    v.strictObject({ plan: v.array(v.strictObject({ field: id, variety: id })), centsPerMove: between(0, 1e12) }),
  ),
})

export const planProblemSchema = v.strictObject({
  format: v.literal('standwell-problem', 'must be "standwell-problem"'),
  version: v.literal(planProblemVersion),
  name: v.optional(v.string()),
  fields: v.pipe(v.array(problemField), v.minLength(1, 'must hold at least one field')),
  varieties: v.pipe(v.array(problemVariety), v.minLength(1, 'must hold at least one variety')),
  options: v.array(problemOption),
  dealers: v.optional(v.array(problemDealer), []),
  quotes: v.optional(v.array(problemQuote), []),
  /** Seed on hand, free of charge. */
  carried: v.optional(
    v.array(v.strictObject({ variety: id, pounds: amount, mustUse: v.optional(v.boolean(), false) })),
    [],
  ),
  digging: v.optional(v.array(problemQueue), []),
  rules: v.optional(problemRules, {}),
})

export type PlanProblem = v.InferOutput<typeof planProblemSchema>
export type ProblemOption = v.InferOutput<typeof problemOption>
export type ProblemQuote = v.InferOutput<typeof problemQuote>
export type ProblemDealer = v.InferOutput<typeof problemDealer>
export type ProblemField = v.InferOutput<typeof problemField>
export type ProblemQueue = v.InferOutput<typeof problemQueue>
export type ProblemRules = v.InferOutput<typeof problemRules>

/** Reads a parsed problem file; every problem is reported, nothing is repaired. */
export function readPlanProblem(raw: unknown, file: string): Result<PlanProblem> {
  const version = (raw as { version?: unknown } | null)?.version
  if (typeof version === 'number' && version > planProblemVersion) {
    return fail({
      code: 'future-version',
      what: `The file is of version ${version}; this Standwell reads up to version ${planProblemVersion}.`,
      where: { file, path: 'version' },
      remedy: 'Use a newer Standwell.',
    })
  }
  const parsed = v.safeParse(planProblemSchema, raw)
  if (!parsed.success) return fail(...problemsFrom(parsed.issues, raw, file))
  const problems = checkReferences(parsed.output, file)
  return problems.length > 0 ? fail(...problems) : ok(parsed.output)
}

function checkReferences(problem: PlanProblem, file: string): Problem[] {
  const problems: Problem[] = []
  const ids = {
    field: idSet(problem.fields, 'fields'),
    variety: idSet(problem.varieties, 'varieties'),
    dealer: idSet(problem.dealers, 'dealers'),
    quote: idSet(problem.quotes, 'quotes'),
  }

  function idSet(things: readonly { id: string }[], list: string): Set<string> {
    const seen = new Set<string>()
    things.forEach((thing, index) => {
      if (seen.has(thing.id)) {
        problems.push({
          code: 'repeated-name',
          what: `The id "${thing.id}" stands twice in ${list}.`,
          where: { file, path: `${list}[${index}].id`, name: thing.id },
          remedy: 'Give each its own id.',
        })
      }
      seen.add(thing.id)
    })
    return seen
  }

  function at({ what, remedy }: TableProblem, path: string, name: string): Problem {
    return { code: 'bad-value', what: `${name}: ${what}.`, where: { file, path, name }, remedy }
  }

  function mustKnow(kind: 'field' | 'variety' | 'dealer', name: string | undefined, path: string): void {
    if (name === undefined || ids[kind].has(name)) return
    problems.push({
      code: 'unknown-name',
      what: `There is no ${kind} with the id "${name}".`,
      where: { file, path, name },
      remedy: `Add the ${kind}, or correct the id.`,
    })
  }

  problem.options.forEach((option, i) => {
    mustKnow('field', option.field, `options[${i}].field`)
    mustKnow('variety', option.variety, `options[${i}].variety`)
  })
  problem.quotes.forEach((quote, i) => {
    mustKnow('dealer', quote.dealer, `quotes[${i}].dealer`)
    mustKnow('variety', quote.variety, `quotes[${i}].variety`)
  })
  problem.quotes.forEach((quote, i) => {
    problems.push(...quoteTableProblems(quote).map((found) => at(found, `quotes[${i}].breaks`, quote.id)))
  })
  problem.dealers.forEach((dealer, i) => {
    const prices = problem.quotes.filter((quote) => quote.dealer === dealer.id)
    problems.push(...dealerTableProblems(dealer, prices).map((found) => at(found, `dealers[${i}].breaks`, dealer.id)))
  })
  const queues = new Set(problem.digging.map(({ ripe }) => ripe))
  problem.options.forEach(({ ripe }, i) => {
    if (ripe === '' || queues.has(ripe)) return
    problems.push({
      code: 'unknown-name',
      what: `There are no digging weeks for what is ripe on "${ripe}".`,
      where: { file, path: `options[${i}].ripe`, name: ripe },
      remedy: 'Add them to digging, or leave the day out.',
    })
  })
  problem.carried.forEach((carried, i) => mustKnow('variety', carried.variety, `carried[${i}].variety`))
  const { rules } = problem
  rules.largestShare.forEach((rule, i) => mustKnow('variety', rule.variety, `rules.largestShare[${i}].variety`))
  rules.locks.forEach((lock, i) => {
    mustKnow('field', lock.field, `rules.locks[${i}].field`)
    mustKnow('variety', lock.variety, `rules.locks[${i}].variety`)
  })
  rules.planted?.forEach((planted, i) => {
    mustKnow('field', planted.field, `rules.planted[${i}].field`)
    mustKnow('variety', planted.variety, `rules.planted[${i}].variety`)
  })
  rules.exclusions.forEach((exclusion, i) => {
    mustKnow('field', exclusion.field, `rules.exclusions[${i}].field`)
    mustKnow('variety', exclusion.variety, `rules.exclusions[${i}].variety`)
  })
  rules.stayPut?.plan.forEach((entry, i) => {
    mustKnow('field', entry.field, `rules.stayPut.plan[${i}].field`)
    mustKnow('variety', entry.variety, `rules.stayPut.plan[${i}].variety`)
  })
  return problems
}
