/** The purchase half of the model: packs, price breaks, dealers, seed carried; and seed enough for every variety. */
import type { ProblemDealer, ProblemQuote } from '../../../src-shared/plan-problem.ts'
import { tiersOf } from '../../../src-shared/price-break.ts'
import { CENTS_PER_UNIT, columnsOf, optionAt, poundsNeeded, type Build } from './build.ts'
import type { Term } from './linear-model.ts'
import { packWeight } from './pack-weight.ts'
import { mostAcres, shareRuleId } from './share-limit.ts'

export function addPurchases(build: Build, wholePacks: boolean): void {
  const { problem } = build
  for (const dealer of problem.dealers)
    if (needsYesNo(build, dealer)) build.dealerUsed.set(dealer.id, build.model.choice())
  const mostNeed = largestNeeds(build)
  problem.quotes.forEach((quote, index) => addQuote(build, quote, index, mostNeed.get(quote.variety) ?? 0, wholePacks))
  problem.carried.forEach((carried, index) => {
    const column = build.model.column(0, 0, carried.pounds)
    build.carried.push({ carried: index, column })
  })
  for (const dealer of problem.dealers) addDealer(build, dealer, mostNeed)
  for (const variety of problem.varieties) addSeedBalance(build, variety.id, mostNeed.get(variety.id) ?? Infinity)
}

/** A dealer needs a yes/no where something hangs on whether anything at all is ordered. */
function needsYesNo(build: Build, dealer: ProblemDealer): boolean {
  const { rules } = build.problem
  return dealer.orderFeeCents > 0 || dealer.leastPounds > 0 || rules.mostDealers !== undefined
}

/** [lb] the most that each variety could ever need: the acres its share allows, on the fields that take most of it. */
function largestNeeds(build: Build): Map<string, number> {
  const needs = new Map<string, number>()
  for (const [variety, columns] of build.byVariety) {
    const rates = new Map<string, number>()
    for (const { option } of columns) {
      const { field, poundsPerAcre } = optionAt(build.problem, option)
      rates.set(field, Math.max(rates.get(field) ?? 0, poundsPerAcre))
    }
    let acresLeft = build.inForce.has(shareRuleId(variety)) ? mostAcres(build.problem, variety) : Infinity
    let pounds = 0
    for (const [field, rate] of [...rates].sort(([, a], [, b]) => b - a)) {
      const acres = Math.min(acresLeft, build.acresOf.get(field) as number)
      pounds += rate * acres
      acresLeft -= acres
    }
    needs.set(variety, pounds * (1 + build.problem.rules.reserve))
  }
  return needs
}

/** [packs] beyond which nobody buys: the need, or what a break or a minimum asks for. */
function mostPacks(build: Build, quote: ProblemQuote, needPounds: number): number {
  const weight = packWeight(quote)
  const dealer = build.problem.dealers.find((each) => each.id === quote.dealer)
  const wanted = [needPounds, dealer?.leastPounds ?? 0, ...(dealer?.breaks ?? []).map((each) => each.fromPounds)].map(
    (pounds) => Math.ceil(pounds / weight - 1e-9),
  )
  const most = Math.max(...wanted, quote.leastPacks, ...quote.breaks.map((each) => Math.ceil(each.fromPacks)))
  return build.inForce.has(`available/${quote.id}`) ? Math.min(most, quote.availablePacks ?? Infinity) : most
}

/** One column of packs for each price tier, and a yes/no for each where tiers or a minimum ask for it. */
function addQuote(build: Build, quote: ProblemQuote, index: number, needPounds: number, wholePacks: boolean): void {
  const { model } = build
  if (quote.orderedPacks !== undefined) return addOrdered(build, quote, index, quote.orderedPacks)
  const isInteger = wholePacks && quote.packPounds !== undefined
  const most = mostPacks(build, quote, needPounds)
  const tiers = tiersOf(quote)
  const used = build.dealerUsed.get(quote.dealer)
  const choices: number[] = []
  tiers.forEach((tier, k) => {
    // Up to where a later tier costs more; where one costs less, the solver takes that one by itself.
    const dearer = tiers.slice(k + 1).find((later) => later.packPriceCents > tier.packPriceCents)
    const before = (fromPacks: number) => (isInteger ? Math.ceil(fromPacks - 1e-9) - 1 : fromPacks - 1e-6)
    const upper = dearer === undefined ? most : Math.min(most, before(dearer.fromPacks))
    const lower = Math.max(tier.fromPacks, quote.leastPacks)
    const column = model.column(tier.packPriceCents / CENTS_PER_UNIT, 0, Math.max(0, upper), isInteger)
    build.packs.push({ quote: index, column, priceCents: tier.packPriceCents })
    if (tiers.length > 1 || quote.leastPacks > 0) {
      const chosen = model.choice()
      choices.push(chosen)
      model.row(-Infinity, 0, [
        [column, 1],
        [chosen, -upper],
      ])
      if (lower > 0) {
        model.row(0, Infinity, [
          [column, 1],
          [chosen, -lower],
        ])
      }
    } else if (used !== undefined) {
      model.row(-Infinity, 0, [
        [column, 1],
        [used, -upper],
      ])
    }
  })
  if (choices.length > 0) {
    const sum: Term[] = choices.map((choice) => [choice, 1])
    if (used === undefined) model.row(-Infinity, 1, sum)
    else model.row(-Infinity, 0, [...sum, [used, -1]])
  }
}

/** Packs on order: in every plan, and their dealer is ordered from whatever else the plan buys. */
function addOrdered(build: Build, quote: ProblemQuote, index: number, packs: number): void {
  const column = build.model.column(quote.packPriceCents / CENTS_PER_UNIT, packs, packs)
  build.packs.push({ quote: index, column, priceCents: quote.packPriceCents })
  const used = build.dealerUsed.get(quote.dealer)
  if (used !== undefined && packs > 0) build.model.fix(used, 1)
}

/** Terms that add up the pounds ordered from a dealer. */
function poundsFrom(build: Build, dealer: string): Term[] {
  return build.packs.flatMap(({ quote, column }): Term[] => {
    const own = build.problem.quotes[quote] as ProblemQuote
    return own.dealer === dealer ? [[column, packWeight(own)]] : []
  })
}

/** Order fee, least and most pounds, and the break on the whole order: off[k] ≤ pounds, only when k is reached. */
function addDealer(build: Build, dealer: ProblemDealer, mostNeed: Map<string, number>): void {
  const { model } = build
  const pounds = poundsFrom(build, dealer.id)
  if (pounds.length === 0) return
  const used = build.dealerUsed.get(dealer.id)
  if (used !== undefined) {
    model.addCost(used, dealer.orderFeeCents / CENTS_PER_UNIT)
    model.row(0, Infinity, [...pounds, [used, -dealer.leastPounds]])
    addSoleSupplierRows(build, dealer.id, used)
  }
  const ceiling = Math.min(dealer.mostPounds ?? Infinity, poundsWorthBuying(build, dealer, mostNeed))
  const breaks = dealer.breaks.map((each) => {
    // A finite upper: without one, and without presolve, the solver was seen to call a dearer plan optimal.
    const most = Math.max(ceiling, each.fromPounds)
    const off = model.column(-each.offCentsPerPound / CENTS_PER_UNIT, 0, most)
    const reached = model.choice()
    model.row(-Infinity, 0, [
      [off, 1],
      [reached, -most],
    ])
    model.row(0, Infinity, [...pounds, [reached, -each.fromPounds]])
    build.dealerOff.push({ column: off, centsPerPound: each.offCentsPerPound })
    return { off, reached }
  })
  if (breaks.length > 0) {
    model.row(-Infinity, 0, [...breaks.map(({ off }): Term => [off, 1]), ...negated(pounds)])
    model.row(
      -Infinity,
      1,
      breaks.map(({ reached }) => [reached, 1]),
    )
  }
}

/** [lb] the most that could sensibly come from a dealer: sets the break's coefficient, so it is kept tight. */
function poundsWorthBuying(build: Build, dealer: ProblemDealer, mostNeed: Map<string, number>): number {
  return build.problem.quotes
    .filter((quote) => quote.dealer === dealer.id)
    .reduce((sum, quote) => sum + mostPacks(build, quote, mostNeed.get(quote.variety) ?? 0) * packWeight(quote), 0)
}

function negated(terms: readonly Term[]): Term[] {
  return terms.map(([column, value]) => [column, -value])
}

/** Where a variety comes from one dealer only, no field can have it unless that dealer is used: a tighter bound. */
function addSoleSupplierRows(build: Build, dealer: string, used: number): void {
  const { model, problem } = build
  for (const variety of problem.varieties) {
    const quotes = problem.quotes.filter((quote) => quote.variety === variety.id)
    if (quotes.length === 0 || quotes.some((quote) => quote.dealer !== dealer)) continue
    if (problem.carried.some((carried) => carried.variety === variety.id)) continue
    const own = columnsOf(build.byVariety, variety.id).filter(
      ({ option }) => optionAt(problem, option).poundsPerAcre > 0,
    )
    for (const [field, columns] of Map.groupBy(own, ({ option }) => optionAt(problem, option).field)) {
      const terms: Term[] = [...columns.map(({ share }): Term => [share, 1]), [used, -1]]
      model.row(-Infinity, 0, terms, `sole/${dealer}/${variety.id}/${field}`)
    }
  }
}

/** Pounds bought and carried cover pounds needed, reserve included. */
function addSeedBalance(build: Build, variety: string, mostNeeded: number): void {
  const { model, problem } = build
  const needs = negated(poundsNeeded(build, variety))
  if (needs.length === 0) return
  const bought = build.packs.flatMap(({ quote, column }): Term[] => {
    const own = problem.quotes[quote] as ProblemQuote
    if (own.variety !== variety) return []
    // One whole pack of so much covers every need: a larger number would only strain the solver's tolerances.
    const weight = build.model.isInteger(column) ? Math.min(packWeight(own), mostNeeded) : packWeight(own)
    return [[column, weight]]
  })
  const carried = build.carried.flatMap(({ carried: index, column }): Term[] =>
    problem.carried[index]?.variety === variety ? [[column, 1]] : [],
  )
  model.row(0, Infinity, [...bought, ...carried, ...needs], `seed/${variety}`)
}
