/**
 * Solver's numbers → a plan in acres, packs and cents. Prices are worked out again from the quotes, so that the
 * plan's money owes nothing to the model's.
 */
import type {
  DealerOrder,
  Plan,
  PlanBlock,
  PlantedPart,
  PlanTotals,
  Purchase,
  SeedBalance,
} from '../../../src-shared/plan.ts'
import type { PlanProblem, ProblemField, ProblemOption, ProblemQuote } from '../../../src-shared/plan-problem.ts'
import { offCentsAt, tierAt } from '../../../src-shared/price-break.ts'
import { groupOf } from './block-options.ts'
import { columnsOf, optionAt, type Build } from './build.ts'
import { leaveOutCents } from './leave-out.ts'
import { isMove, varietiesInHand } from './moves.ts'
import { packWeight } from './pack-weight.ts'
import { dugParts, pricedParts, queuesOf } from './queue.ts'

/** Shares and packs below this are the solver's rounding, not part of a plan. */
const DUST = 1e-6

/**
 * @param wholeCents true rounds each block and order to the cent, as a farm's books want it; false keeps
 *   fractions, for problems whose money is no real money
 */
export function readBack(build: Build, columns: Float64Array, wholeCents: boolean): Plan {
  const { problem } = build
  const cents = (amount: number) => (wholeCents ? Math.round(amount) : amount)
  const at = (column: number) => columns[column] as number

  const groupsPlaced: { option: number; acres: number }[][] = []
  const leftOut: Plan['leftOut'] = []
  for (const field of problem.fields) {
    const placed = columnsOf(build.byField, field.id).filter(({ share }) => at(share) >= DUST)
    const leftColumn = build.leftOut.get(field.id)
    const left = leftColumn !== undefined && at(leftColumn) >= DUST ? at(leftColumn) : 0
    // Shares add up to 1 only as nearly as the solver reckons; acres must add up to the field.
    const whole = placed.reduce((sum, { share }) => sum + at(share), left)
    if (left > 0) {
      const acres = (left / whole) * field.acres
      leftOut.push({ field: field.id, acres, otherCents: cents(acres * field.otherCents) })
    }
    const acresOf = (share: number) => (at(share) / whole) * field.acres
    const groups = Map.groupBy(placed, ({ option }) => groupOf(optionAt(problem, option), option))
    for (const own of groups.values())
      groupsPlaced.push(own.map(({ option, share }) => ({ option, acres: acresOf(share) })))
  }
  const parts = dugParts(build, columns, groupsPlaced.flat())
  const fields = new Map(problem.fields.map((field) => [field.id, field]))
  const blocks = groupsPlaced.map((own) => blockOf(problem, fields, own, parts, cents))
  const purchases: Purchase[] = []
  problem.quotes.forEach((quote, index) => {
    const raw = build.packs.reduce((sum, packs) => (packs.quote === index ? sum + at(packs.column) : sum), 0)
    const packs = quote.packPounds === undefined ? raw : Math.round(raw)
    if (packs > DUST) purchases.push(lineOf(quote, packs, cents))
  })
  return assemble(problem, { blocks, leftOut, purchases }, cents)
}

/** One block of the options of a group: what is planted in which week, when it is dug, and what all of it costs. */
function blockOf(
  problem: PlanProblem,
  fields: ReadonlyMap<string, ProblemField>,
  own: readonly { option: number; acres: number }[],
  dugIn: ReadonlyMap<number, readonly { week: string; acres: number }[]>,
  cents: (amount: number) => number,
): PlanBlock {
  const queues = queuesOf(problem)
  const weeks = own
    .map(({ option, acres }) => ({ option, acres, is: optionAt(problem, option) }))
    .sort((a, b) => (a.is.week < b.is.week ? -1 : 1))
  const [first] = weeks.toSorted((a, b) => b.acres - a.acres) as [(typeof weeks)[number]]
  const { field, variety, programme, poundsPerAcre } = first.is
  const sum = (perAcre: (option: ProblemOption) => number) =>
    weeks.reduce((all, { acres, is }) => all + acres * perAcre(is), 0)
  const acres = sum(() => 1)
  let lostLb = 0
  let lostCents = 0
  const planted = weeks.map(({ option, acres, is }): PlantedPart => {
    const queue = queues.get(is.ripe)
    const priced = queue && pricedParts(queue, is, dugIn.get(option) ?? [], cents)
    lostLb += priced?.lostLb ?? 0
    lostCents += (priced?.dug ?? []).reduce((all, part) => all + part.cents, 0)
    return { window: is.window, week: is.week, acres, ripe: is.ripe, dug: priced?.dug ?? [] }
  })
  const couldCents = fields.get(field)?.couldCents
  return {
    field,
    variety,
    window: first.is.window,
    ...(first.is.week === '' ? {} : { planted }),
    programme,
    acres,
    poundsPerAcre,
    pounds: acres * poundsPerAcre,
    cashCents: cents(sum(({ cashCents }) => cashCents)),
    lossCents: cents(sum(({ lossCents }) => lossCents)),
    vineCents: cents(sum(({ vineCents }) => vineCents)),
    giveUpCents: cents(sum(({ giveUpCents }) => giveUpCents)) + lostCents,
    yieldLb: (sum(({ yieldLb }) => yieldLb) - lostLb) / acres,
    ...(couldCents === undefined ? {} : { couldCents: cents(acres * couldCents) }),
  }
}

function lineOf(quote: ProblemQuote, packs: number, cents: (amount: number) => number): Purchase {
  const tier = tierAt(quote, packs)
  return {
    quote: quote.id,
    dealer: quote.dealer,
    variety: quote.variety,
    packs,
    packPounds: packWeight(quote),
    packPriceCents: tier.packPriceCents,
    fromPacks: tier.fromPacks,
    pounds: packs * packWeight(quote),
    cents: cents(packs * tier.packPriceCents),
  }
}

/** Orders, seed balance and totals from the blocks and the lines: sums only. */
function assemble(
  problem: PlanProblem,
  parts: Pick<Plan, 'blocks' | 'leftOut' | 'purchases'>,
  cents: (amount: number) => number,
): Plan {
  const { blocks, leftOut, purchases } = parts
  const orders: DealerOrder[] = problem.dealers.flatMap((dealer) => {
    const lines = purchases.filter((line) => line.dealer === dealer.id)
    if (lines.length === 0) return []
    const pounds = sumOf(lines, (line) => line.pounds)
    const offCents = cents(offCentsAt(dealer.breaks, pounds))
    const feeCents = dealer.orderFeeCents
    return [
      {
        dealer: dealer.id,
        pounds,
        feeCents,
        offCents,
        cents: sumOf(lines, (line) => line.cents) - offCents + feeCents,
      },
    ]
  })
  const seed: SeedBalance[] = problem.varieties.flatMap((variety) => {
    const own = blocks.filter((block) => block.variety === variety.id)
    const neededPounds = sumOf(own, (block) => block.pounds)
    const boughtPounds = sumOf(purchases, (line) => (line.variety === variety.id ? line.pounds : 0))
    const reservePounds = neededPounds * problem.rules.reserve
    // Seed on hand is used before anything bought: it is free, so the solver may leave open how much it takes.
    const onHand = sumOf(problem.carried, (each) => (each.variety === variety.id ? each.pounds : 0))
    const carriedPounds = Math.min(onHand, neededPounds + reservePounds)
    if (own.length === 0 && boughtPounds === 0) return []
    return [
      {
        variety: variety.id,
        acres: sumOf(own, (block) => block.acres),
        neededPounds,
        reservePounds,
        carriedPounds,
        boughtPounds,
        leftPounds: boughtPounds + carriedPounds - neededPounds,
      },
    ]
  })
  return {
    blocks,
    leftOut,
    purchases,
    orders,
    seed,
    totals: totalsOf(problem, { blocks, leftOut, purchases, orders }, cents),
  }
}

/** The totals, from the parts alone. The checker adds them up in its own way. */
export function totalsOf(
  problem: PlanProblem,
  plan: Pick<Plan, 'blocks' | 'leftOut' | 'purchases' | 'orders'>,
  cents: (amount: number) => number,
): PlanTotals {
  const seedCents = sumOf(plan.orders, (order) => order.cents)
  const measureCents = sumOf(plan.blocks, (block) => block.cashCents)
  const lossCents = sumOf(plan.blocks, (block) => block.lossCents)
  const vineCents = sumOf(plan.blocks, (block) => block.vineCents)
  const giveUpCents = sumOf(plan.blocks, (block) => block.giveUpCents)
  const acresLeftOut = sumOf(plan.leftOut, (each) => each.acres)
  const fields = new Map(problem.fields.map((field) => [field.id, field]))
  const onLeftOut = (perAcre: (field: ProblemField) => number) =>
    cents(sumOf(plan.leftOut, ({ field, acres }) => acres * perAcre(fields.get(field) as ProblemField)))
  const leftOutCents = onLeftOut((field) => leaveOutCents(problem, field) ?? 0)
  const movedCents = cents(movesOf(problem, plan.blocks) * (problem.rules.stayPut?.centsPerMove ?? 0))
  const cashCents = seedCents + measureCents
  return {
    acres: sumOf(plan.blocks, (block) => block.acres),
    acresLeftOut,
    packs: sumOf(plan.purchases, (line) => line.packs),
    seedCents,
    measureCents,
    cashCents,
    lossCents,
    vineCents,
    giveUpCents,
    leftOutCents,
    movedCents,
    ...(problem.fields.some(({ couldCents }) => couldCents === undefined)
      ? {}
      : {
          marginCents:
            sumOf(plan.blocks, (block) => block.couldCents ?? 0) +
            onLeftOut(({ otherCents }) => otherCents) -
            (cashCents + lossCents + vineCents + giveUpCents),
        }),
    costCents: cashCents + problem.rules.riskWeight * lossCents + vineCents + giveUpCents + leftOutCents + movedCents,
  }
}

/** Fields, by share of their acres, that have another variety than in the plan in hand. */
function movesOf(problem: PlanProblem, blocks: Plan['blocks']): number {
  const inHand = varietiesInHand(problem)
  const acres = new Map(problem.fields.map((field) => [field.id, field.acres]))
  return sumOf(blocks, (block) => (isMove(inHand, block) ? block.acres / (acres.get(block.field) ?? Infinity) : 0))
}

function sumOf<Thing>(things: readonly Thing[], amount: (thing: Thing) => number): number {
  return things.reduce((sum, thing) => sum + amount(thing), 0)
}
