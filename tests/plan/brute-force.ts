/**
 * The least cost of a small farm by trying every plan: every option of every field, every pair of halves of a field that may
 * be split, every number of packs. Shares no code with the solver; written from the rules' sentences.
 */
import type { PlanProblem, ProblemField, ProblemOption } from '../../src-shared/plan-problem.ts'

/** A block: an option on the whole of its field or on half of it. */
interface Part {
  option: ProblemOption
  share: number
}

/** [cent] least cost, or null where no plan keeps every rule. */
export function leastCost(problem: PlanProblem): number | null {
  const best = greatest(problem, (cost) => -cost)
  return best === null ? null : -best
}

/**
 * [cent] greatest margin, the crop counted and not what it falls short of: what planted ground could bring less its costs,
 * and what ground left out brings otherwise.
 */
export function greatestMargin(problem: PlanProblem): number | null {
  return greatest(problem, (cost, chosen) => {
    let margin = -cost
    problem.fields.forEach((field, index) => {
      const isLeft = (chosen[index] ?? []).length === 0
      margin += field.acres * (isLeft ? field.otherCents + leftOut(problem, field) : (field.couldCents ?? 0))
    })
    return margin
  })
}

/** [cent/acre] counted for a field left out. */
function leftOut({ rules }: PlanProblem, field: ProblemField): number {
  return field.leaveOutCents ?? rules.leaveOutCents ?? 0
}

function greatest(
  problem: PlanProblem,
  worth: (cost: number, chosen: readonly (readonly Part[])[]) => number,
): number | null {
  const { rules } = problem
  let best: number | null = null
  const purchases = allPurchases(problem)
  const choices = problem.fields.map((field): (readonly Part[])[] => {
    const own = problem.options.filter((option) => option.field === field.id && isAllowed(problem, option))
    return [
      ...own.map((option) => [{ option, share: 1 }]),
      ...halvesOf(problem, field, own),
      ...(rules.leaveOutCents === undefined ? [] : [[]]),
    ]
  })
  const chosen: (readonly Part[])[] = []
  const visit = (index: number): void => {
    if (index < choices.length) {
      for (const choice of choices[index] ?? []) {
        chosen[index] = choice
        visit(index + 1)
      }
      return
    }
    const cost = costOf(problem, chosen, purchases)
    if (cost === null) return
    const value = worth(cost, chosen)
    if (best === null || value > best) best = value
  }
  visit(0)
  return best
}

/** Blocks of a split field are of different varieties, and of half of it at least: of it whole, or two halves. */
function halvesOf({ rules }: PlanProblem, { id, acres, split }: ProblemField, own: readonly ProblemOption[]): Part[][] {
  if (split === undefined) return []
  // Any other split has shares between, and no end of them.
  if (split.leastBlockAcres !== acres / 2 || rules.leaveOutCents !== undefined)
    throw new Error(`${id} cannot be tried.`)
  if ((split.mostVarieties ?? 2) < 2) return []
  return own.flatMap((one, at) =>
    own.slice(at + 1).flatMap((other) =>
      one.variety === other.variety
        ? []
        : [
            [
              { option: one, share: 0.5 },
              { option: other, share: 0.5 },
            ],
          ],
    ),
  )
}

function isAllowed(problem: PlanProblem, option: ProblemOption): boolean {
  const { locks, exclusions } = problem.rules
  return (
    locks.every(
      (lock) =>
        lock.field !== option.field ||
        (lock.variety === option.variety && (lock.window ?? option.window) === option.window),
    ) &&
    !exclusions.some(
      (never) => (never.field ?? option.field) === option.field && (never.variety ?? option.variety) === option.variety,
    )
  )
}

function costOf(
  problem: PlanProblem,
  chosen: readonly (readonly Part[])[],
  purchases: readonly Purchase[],
): number | null {
  const { rules } = problem
  const total = problem.fields.reduce((sum, field) => sum + field.acres, 0)
  const acres = new Map<string, number>()
  const pounds = new Map<string, number>()
  const planter = new Map<string, number>()
  const digger = new Map<string, number>()
  const combine = new Map<string, number>()
  let ground = 0
  let measures = 0
  let loss = 0
  const add = (map: Map<string, number>, key: string, amount: number) => map.set(key, (map.get(key) ?? 0) + amount)
  problem.fields.forEach((field, index) => {
    const parts = chosen[index] ?? []
    if (parts.length === 0) ground += field.acres * leftOut(problem, field)
    for (const { option, share } of parts) {
      const own = field.acres * share
      add(acres, option.variety, own)
      add(pounds, option.variety, own * option.poundsPerAcre * (1 + rules.reserve))
      add(planter, option.window, own * option.planterHours)
      add(digger, option.digWeek, own * option.diggerHours)
      add(combine, option.combineWeek, own * option.combineHours)
      measures += own * option.cashCents
      loss += own * option.lossCents
      const inHand = rules.stayPut?.plan.find((each) => each.field === option.field)
      const isMoved = inHand !== undefined && inHand.variety !== option.variety
      if (isMoved) ground += share * (rules.stayPut?.centsPerMove ?? 0)
      ground += own * (rules.riskWeight * option.lossCents + option.vineCents + option.giveUpCents)
      // Where no hours are limited everything is dug in its best week.
      const weeks = problem.digging.find(({ ripe }) => ripe === option.ripe)?.weeks ?? []
      if (weeks.length > 0) ground += own * option.cropCents * Math.min(...weeks.map(({ lost }) => lost))
    }
  })
  const over = (amount: number, limit: number) => amount > limit + 1e-6
  if (over(loss, rules.lossLimitCents ?? Infinity)) return null
  for (const { field, variety } of rules.planted ?? []) {
    const isThere = chosen
      .flat()
      .some(({ option }) => (field ?? option.field) === option.field && (variety ?? option.variety) === option.variety)
    if (!isThere) return null
  }
  if (rules.planterHours.some((limit) => over(planter.get(limit.in) ?? 0, limit.hours))) return null
  if (rules.combineHours.some((limit) => over(combine.get(limit.in) ?? 0, limit.hours))) return null
  if (rules.diggerHours.some((limit) => over(digger.get(limit.in) ?? 0, limit.hours))) return null
  for (const [variety, own] of acres) {
    const rule =
      rules.largestShare.find((each) => each.variety === variety) ?? rules.largestShare.find((each) => !each.variety)
    if (rule && over(own, rule.share * total)) return null
  }
  for (const contract of rules.contracts) {
    const own = problem.varieties
      .filter((variety) => variety.oilType === contract.oilType)
      .reduce((sum, variety) => sum + (acres.get(variety.id) ?? 0), 0)
    if (over(contract.acres, own)) return null
  }
  if (rules.fewestVarieties !== undefined && acres.size < rules.fewestVarieties) return null
  if (rules.mostVarieties !== undefined && acres.size > rules.mostVarieties) return null
  for (const { variety, pounds: left, mustUse } of problem.carried) {
    if (mustUse && over(left, pounds.get(variety) ?? 0)) return null
  }
  const seed = purchases.find(({ have }) =>
    [...pounds].every(([variety, need]) => (have.get(variety) ?? 0) >= need - 1e-6),
  )
  if (seed === undefined || over(measures + seed.cents, rules.budgetCents ?? Infinity)) return null
  return ground + measures + seed.cents
}

interface Purchase {
  cents: number
  /** [lb] by variety, seed on hand included. */
  have: Map<string, number>
}

/** Every purchase that any plan could want, cheapest first. */
function allPurchases(problem: PlanProblem): Purchase[] {
  const purchases: Purchase[] = []
  const packs = new Array<number>(problem.quotes.length).fill(0)
  const largest = Math.max(
    0,
    ...problem.dealers.flatMap((dealer) => [dealer.leastPounds, ...dealer.breaks.map((each) => each.fromPounds)]),
  )
  const visit = (index: number): void => {
    const quote = problem.quotes[index]
    if (quote === undefined) {
      const purchase = bill(problem, packs)
      if (purchase !== null) purchases.push(purchase)
      return
    }
    const wanted = Math.max(mostNeed(problem, quote.variety), largest)
    const most = Math.min(
      quote.availablePacks ?? Infinity,
      Math.max(
        Math.ceil(wanted / (quote.packPounds ?? 1)),
        quote.leastPacks,
        ...quote.breaks.map((each) => each.fromPacks),
      ),
    )
    for (let count = 0; count <= most; count++) {
      if (count > 0 && count < quote.leastPacks) continue
      packs[index] = count
      visit(index + 1)
    }
    packs[index] = 0
  }
  visit(0)
  return purchases.sort((a, b) => a.cents - b.cents)
}

/** [lb] with every field in this variety at its highest rate. */
function mostNeed(problem: PlanProblem, variety: string): number {
  return problem.fields.reduce((sum, field) => {
    const rates = problem.options
      .filter((option) => option.field === field.id && option.variety === variety)
      .map((option) => option.poundsPerAcre)
    return sum + field.acres * Math.max(0, ...rates) * (1 + problem.rules.reserve)
  }, 0)
}

function bill(problem: PlanProblem, packs: readonly number[]): Purchase | null {
  const have = new Map<string, number>()
  const ordered = new Map<string, number>()
  let cents = 0
  for (const { variety, pounds } of problem.carried) have.set(variety, (have.get(variety) ?? 0) + pounds)
  problem.quotes.forEach((quote, index) => {
    const count = packs[index] ?? 0
    const pounds = count * (quote.packPounds ?? 1)
    have.set(quote.variety, (have.get(quote.variety) ?? 0) + pounds)
    ordered.set(quote.dealer, (ordered.get(quote.dealer) ?? 0) + pounds)
    const reached = quote.breaks.filter((each) => count >= each.fromPacks).sort((a, b) => b.fromPacks - a.fromPacks)[0]
    cents += count * (reached?.packPriceCents ?? quote.packPriceCents)
  })
  let dealers = 0
  for (const dealer of problem.dealers) {
    const pounds = ordered.get(dealer.id) ?? 0
    if (pounds === 0) continue
    dealers++
    if (pounds < dealer.leastPounds || pounds > (dealer.mostPounds ?? Infinity)) return null
    cents += dealer.orderFeeCents
    const reached = dealer.breaks
      .filter((each) => pounds >= each.fromPounds)
      .sort((a, b) => b.fromPounds - a.fromPounds)[0]
    cents -= (reached?.offCentsPerPound ?? 0) * pounds
  }
  return problem.rules.mostDealers !== undefined && dealers > problem.rules.mostDealers ? null : { cents, have }
}
