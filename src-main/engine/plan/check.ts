/**
 * Re-tests a finished plan against the problem it was made from, without the model: every acre, every pound,
 * every price, every rule, every sum. Anything found is a bug of ours and is shown as one, never hidden.
 */
import type { Plan, PlanBlock } from '../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'
import type { Problem } from '../../../src-shared/problem.ts'
import { partsOf } from '../../../src-shared/planted-part.ts'
import { optionsOfBlock } from './block-options.ts'
import type { NamedRule } from './rules/named-rule.ts'

/** Relative slack for sums of many doubles; [cent] slack for rounding each block. */
const RELATIVE = 1e-6

export function checkPlan(problem: PlanProblem, rules: readonly NamedRule[], plan: Plan): Problem[] {
  const found: string[] = [
    ...checkGround(problem, plan),
    ...checkDigging(problem, plan),
    ...checkSeed(problem, plan),
    ...checkPurchases(problem, plan),
    ...checkTotals(problem, plan),
    ...rules.flatMap((rule) => rule.broken(plan) ?? []),
  ]
  return found.map((what) => ({
    code: 'bug',
    what: `The plan fails a check: ${what}`,
    remedy: 'Please report this with the season file; do not order from this plan.',
  }))
}

function near(a: number, b: number, slack = 0): boolean {
  return Math.abs(a - b) <= slack + RELATIVE * Math.max(1, Math.abs(a), Math.abs(b))
}

/** What a block costs by its options; null where it has none. */
function moneyOf(problem: PlanProblem, block: PlanBlock): Record<'cash' | 'loss', number> | null {
  const parts = optionsOfBlock(problem, block)
  if (parts === null) return null
  const sum = (perAcre: (option: ProblemOption) => number) =>
    parts.reduce((all, { option, part }) => all + part.acres * perAcre(option), 0)
  return { cash: sum(({ cashCents }) => cashCents), loss: sum(({ lossCents }) => lossCents) }
}

/** Each field's acres are placed or left out, by options that exist, in blocks that are allowed. */
function checkGround(problem: PlanProblem, plan: Plan): string[] {
  const found: string[] = []
  for (const field of problem.fields) {
    const blocks = plan.blocks.filter((block) => block.field === field.id)
    const left = plan.leftOut.filter((each) => each.field === field.id)
    const placed = [...blocks, ...left].reduce((sum, each) => sum + each.acres, 0)
    if (!near(placed, field.acres)) found.push(`${field.id} has ${field.acres} acres; ${placed} are placed.`)
    if (left.length > 0 && problem.rules.leaveOutCents === undefined)
      found.push(`${field.id} is left out, which no rule allows.`)
    if (field.split === undefined && blocks.length + left.length > 1)
      found.push(`${field.id} is split, which is not allowed.`)
    if (field.split !== undefined && blocks.length > 1) {
      const { leastBlockAcres, mostVarieties } = field.split
      for (const block of blocks) {
        if (block.acres < leastBlockAcres * (1 - RELATIVE))
          found.push(`${field.id}: a block of ${block.acres} acres is too small.`)
      }
      const varieties = new Set(blocks.map((block) => block.variety)).size
      if (mostVarieties !== undefined && varieties > mostVarieties)
        found.push(`${field.id} has ${varieties} varieties; ${mostVarieties} are allowed.`)
    }
    for (const block of blocks) {
      const money = moneyOf(problem, block)
      if (money === null || !near(money.cash, block.cashCents, 0.51) || !near(money.loss, block.lossCents, 0.51))
        found.push(`${block.variety} on ${field.id} is no option, or its money is off.`)
      const planted = partsOf(block).reduce((sum, { acres }) => sum + acres, 0)
      if (!near(planted, block.acres)) found.push(`${field.id}: ${planted} of ${block.acres} acres have a week.`)
    }
  }
  for (const block of plan.blocks) {
    if (!problem.fields.some((field) => field.id === block.field)) found.push(`There is no field ${block.field}.`)
    if (!near(block.pounds, block.acres * block.poundsPerAcre))
      found.push(`${block.field}: pounds are not acres × rate.`)
  }
  return found
}

/** Each block is dug whole, in weeks in which it may be, and what that loses is in what it gives up. */
function checkDigging(problem: PlanProblem, plan: Plan): string[] {
  if (problem.digging.length === 0) return []
  const found: string[] = []
  for (const block of plan.blocks) {
    let giveUp = 0
    let lb = 0
    let roundings = 1
    for (const { option, part } of optionsOfBlock(problem, block) ?? []) {
      giveUp += option.giveUpCents * part.acres
      lb += option.yieldLb * part.acres
      const queue = problem.digging.find(({ ripe }) => ripe === option.ripe)
      if (queue === undefined) continue
      const acres = part.dug.reduce((sum, each) => sum + each.acres, 0)
      if (!near(acres, part.acres)) found.push(`${block.field}: ${acres} of ${part.acres} acres are dug.`)
      for (const each of part.dug) {
        const week = queue.weeks.find((one) => one.week === each.week)
        if (week === undefined) found.push(`${block.field} cannot be dug in the week of ${each.week}.`)
        const lost = week?.lost ?? 1
        giveUp += lost * option.cropCents * each.acres
        lb -= lost * option.cropLb * each.acres
        roundings += 1
      }
    }
    if (!near(giveUp, block.giveUpCents, 0.51 * roundings))
      found.push(`${block.field}: what it gives up is not what its weeks cost.`)
    if (!near(lb / block.acres, block.yieldLb ?? 0))
      found.push(`${block.field}: its yield is not what its weeks leave.`)
  }
  return found
}

/** Seed bought and on hand covers what is needed with the reserve. */
function checkSeed(problem: PlanProblem, plan: Plan): string[] {
  const largest = largestTerms(problem)
  return problem.varieties.flatMap(({ id }) => {
    const need = plan.blocks.reduce(
      (sum, block) => (block.variety === id ? sum + block.acres * block.poundsPerAcre : sum),
      0,
    )
    const wanted = need * (1 + problem.rules.reserve)
    const bought = plan.purchases.reduce(
      (sum, line) => (line.variety === id ? sum + line.packs * line.packPounds : sum),
      0,
    )
    const onHand = problem.carried.reduce((sum, each) => (each.variety === id ? sum + each.pounds : sum), 0)
    const have = bought + onHand
    return have < wanted - RELATIVE * Math.max(1, wanted, largest.get(id) ?? 0)
      ? [`${id} needs ${wanted.toFixed(2)} pounds with the reserve; ${have.toFixed(2)} are bought or on hand.`]
      : []
  })
}

/** [lb] by variety, the most that a field of it takes: the largest amount in the solver's row of its seed: its tolerance is relative to that. */
function largestTerms({ fields, options, rules }: PlanProblem): Map<string, number> {
  const acres = new Map(fields.map((field) => [field.id, field.acres]))
  const most = new Map<string, number>()
  for (const { variety, field, poundsPerAcre } of options) {
    const pounds = poundsPerAcre * (acres.get(field) ?? 0) * (1 + rules.reserve)
    if (pounds > (most.get(variety) ?? 0)) most.set(variety, pounds)
  }
  return most
}

/** Lines are whole packs of quotes that exist, at the price that so many packs reach; dealers' own terms hold. */
function checkPurchases(problem: PlanProblem, plan: Plan): string[] {
  const found: string[] = []
  for (const line of plan.purchases) {
    const quote = problem.quotes.find((each) => each.id === line.quote)
    if (quote === undefined) {
      found.push(`There is no quote ${line.quote}.`)
      continue
    }
    if (quote.packPounds !== undefined && !Number.isInteger(line.packs))
      found.push(`${line.packs} packs of ${line.quote} are not whole.`)
    if (line.packs < quote.leastPacks)
      found.push(`${line.packs} packs of ${line.quote} are fewer than its minimum ${quote.leastPacks}.`)
    let price = quote.packPriceCents
    let from = 0
    for (const each of quote.breaks) {
      if (each.fromPacks <= line.packs + RELATIVE && each.fromPacks > from)
        [from, price] = [each.fromPacks, each.packPriceCents]
    }
    if (price !== line.packPriceCents)
      found.push(`${line.quote} costs ${price} a pack at ${line.packs} packs, not ${line.packPriceCents}.`)
    if (!near(line.cents, line.packs * price, 0.51))
      found.push(`${line.quote}: ${line.packs} × ${price} is not ${line.cents}.`)
  }
  for (const dealer of problem.dealers) {
    const order = plan.orders.find((each) => each.dealer === dealer.id)
    const lines = plan.purchases.filter((line) => line.dealer === dealer.id)
    const pounds = lines.reduce((sum, line) => sum + line.packs * line.packPounds, 0)
    if ((order !== undefined) !== lines.length > 0) found.push(`The order of ${dealer.id} does not match its lines.`)
    if (order === undefined) continue
    if (pounds < dealer.leastPounds * (1 - RELATIVE))
      found.push(`${dealer.id} takes orders from ${dealer.leastPounds} pounds; ${pounds} are ordered.`)
    if (dealer.mostPounds !== undefined && pounds > dealer.mostPounds * (1 + RELATIVE))
      found.push(`${dealer.id} delivers ${dealer.mostPounds} pounds at most; ${pounds} are ordered.`)
    let off = 0
    let from = 0
    for (const each of dealer.breaks) {
      if (each.fromPounds <= pounds + RELATIVE && each.fromPounds > from)
        [from, off] = [each.fromPounds, each.offCentsPerPound]
    }
    if (!near(order.offCents, off * pounds, 0.51))
      found.push(`${dealer.id}: the break takes off ${off * pounds}, not ${order.offCents}.`)
    const lineCents = lines.reduce((sum, line) => sum + line.cents, 0)
    if (!near(order.cents, lineCents - order.offCents + dealer.orderFeeCents))
      found.push(`The order of ${dealer.id} does not add up.`)
  }
  return found
}

function checkTotals(problem: PlanProblem, plan: Plan): string[] {
  const found: string[] = []
  const { totals } = plan
  let cash = 0
  let loss = 0
  let rest = 0
  for (const block of plan.blocks) {
    cash += block.cashCents
    loss += block.lossCents
    rest += block.vineCents + block.giveUpCents
  }
  for (const order of plan.orders) cash += order.cents
  const { leftOut, otherwise } = leftOutMoney(problem, plan)
  const could = plan.blocks.reduce((sum, block) => {
    const field = problem.fields.find(({ id }) => id === block.field)
    return sum + block.acres * (field?.couldCents ?? 0)
  }, 0)
  const moved = movedCents(problem, plan)
  if (!near(leftOut, totals.leftOutCents, 0.51))
    found.push(`Ground left out counts ${leftOut}, not ${totals.leftOutCents}.`)
  if (!near(moved, totals.movedCents, 0.51)) found.push(`Moved fields count ${moved}, not ${totals.movedCents}.`)
  if (!near(cash, totals.cashCents)) found.push(`Cash adds up to ${cash}, not ${totals.cashCents}.`)
  if (!near(loss, totals.lossCents)) found.push(`Expected loss adds up to ${loss}, not ${totals.lossCents}.`)
  const cost = cash + problem.rules.riskWeight * loss + rest + leftOut + moved
  if (!near(cost, totals.costCents, 1.02)) found.push(`The cost adds up to ${cost}, not ${totals.costCents}.`)
  const margin = could + otherwise - cash - loss - rest
  const rounding = 0.51 * (plan.blocks.length + plan.leftOut.length + 1)
  if (totals.marginCents !== undefined && !near(margin, totals.marginCents, rounding))
    found.push(`The margin adds up to ${margin}, not ${totals.marginCents}.`)
  const acres = plan.blocks.reduce((sum, block) => sum + block.acres, 0)
  if (!near(acres, totals.acres)) found.push(`Acres add up to ${acres}, not ${totals.acres}.`)
  return found
}

/** [cent] What ground left out counts, and what it brings otherwise. */
function leftOutMoney(problem: PlanProblem, plan: Plan): { leftOut: number; otherwise: number } {
  let leftOut = 0
  let otherwise = 0
  for (const { field: id, acres } of plan.leftOut) {
    const field = problem.fields.find((each) => each.id === id)
    leftOut += acres * (field?.leaveOutCents ?? problem.rules.leaveOutCents ?? 0)
    otherwise += acres * (field?.otherCents ?? 0)
  }
  return { leftOut, otherwise }
}

/** [cent] for fields that were in the plan in hand and are moved to another variety, by the share that is. */
function movedCents({ fields, rules: { stayPut } }: PlanProblem, plan: Plan): number {
  if (stayPut === undefined) return 0
  let moved = 0
  for (const field of fields) {
    const before = stayPut.plan.filter((each) => each.field === field.id).map(({ variety }) => variety)
    if (before.length === 0) continue
    const elsewhere = plan.blocks.filter((block) => block.field === field.id && !before.includes(block.variety))
    moved += (elsewhere.reduce((sum, block) => sum + block.acres, 0) / field.acres) * stayPut.centsPerMove
  }
  return moved
}
