/**
 * The price at which a variety that was left out comes in: all its quotes scaled alike until the best plan that has
 * it costs what the plan in hand does. A plan's cost is a straight line in that scale, so each solve gives the next
 * scale to try (Newton on the lower envelope), and two or three solves are enough; a budget, which cheaper seed
 * loosens, can bend it, so what is known to be in and out is kept and halved where the lines mislead.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import type { Result } from '../../../src-shared/problem.ts'
import { ok } from '../../../src-shared/problem.ts'
import type { EntryPrice } from '../../../src-shared/reasons.ts'
import { showCents, showPercent } from '../../../src-shared/show.ts'
import { noDifference, openCents } from './figure.ts'
import { packWeight } from './pack-weight.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'

/** [share of today's price] below which nobody would see a price. */
const LEAST_FACTOR = 0.5
const MOST_SOLVES = 12

export interface EntryOptions extends AgainOptions {
  /** [share of today's price] 0 < … < 1; the least that is looked at. */
  leastFactor?: number
}

/** A plan with the variety: fixed cost, and the cost of its seed at today's prices. [cent] */
interface Line {
  fixed: number
  seed: number
  uncertain: number
}

/** Varieties that could be planted and are not in the plan. */
export function varietiesLeftOut(problem: PlanProblem, plan: Plan): string[] {
  const planted = new Set(plan.blocks.map((block) => block.variety))
  return problem.varieties.map(({ id }) => id).filter((id) => !planted.has(id))
}

export async function entryPrice(
  problem: PlanProblem,
  inHand: SolvedPlan & { plan: Plan },
  variety: string,
  options: EntryOptions,
  solver: Solver,
): Promise<Result<EntryPrice>> {
  const { leastFactor = LEAST_FACTOR, ...again } = options
  const told = (kind: EntryPrice['kind'], says: string, factor: number | null = null): Result<EntryPrice> =>
    ok({ variety, kind, factor, quotes: quotesAt(problem, variety, factor), says })
  const hasSeed = [...problem.quotes, ...problem.carried].some((each) => each.variety === variety)
  if (!hasSeed) return told('not-offered', `Nobody offers ${variety}.`)

  const at = async (factor: number): Promise<Result<Line | 'impossible' | 'unknown'>> => {
    const forced = scaled(problem, variety, factor)
    const solved = await solveAgain(forced, inHand.plan, again, solver)
    if (!solved.ok) return solved
    const { plan, proof } = solved.value
    if (plan === null) return ok(proof.status === 'nothing-fits' ? 'impossible' : 'unknown')
    const paid = plan.purchases.reduce((sum, line) => sum + (line.variety === variety ? line.cents : 0), 0)
    return ok({ fixed: plan.totals.costCents - paid, seed: paid / factor, uncertain: openCents(proof) })
  }

  const target = inHand.plan.totals.costCents
  const today = await at(1)
  if (!today.ok) return today
  if (today.value === 'unknown') return told('unknown', `What would bring ${variety} in was not found out in time.`)
  if (today.value === 'impossible') return told('impossible', `No plan that keeps every rule can have ${variety}.`)
  const slack = openCents(inHand.proof) + today.value.uncertain + 0.5
  if (today.value.fixed + today.value.seed <= target + slack) {
    return told('no-difference', `${variety} would cost the same at today’s price: ${noDifference}.`, 1)
  }
  const never = told('not-at-any-price', `${variety} comes in at no price you would see.`)
  if (today.value.seed <= 0) return never

  let isFound = false
  let isIn = leastFactor
  let isOut = 1
  let factor = Math.max(leastFactor, (target - today.value.fixed) / today.value.seed)
  for (let solve = 1; solve < MOST_SOLVES; solve++) {
    const line = await at(factor)
    if (!line.ok) return line
    // Cheaper seed rules no plan out: where there is one at today's price, none here was not found in time.
    if (typeof line.value === 'string') break
    const { fixed, seed } = line.value
    const next = (target - fixed) / seed
    // What the line itself foretold may be off by rounding.
    if (fixed + seed * factor > target + 1) {
      if (factor <= leastFactor) return never
      isOut = factor
    } else {
      // The line through this plan meets the target here: no other plan with the variety is cheaper.
      if (Math.abs(next - factor) * seed <= 1) return comesIn(next)
      isFound = true
      isIn = factor
    }
    if ((isOut - isIn) * dearest(problem, variety) < 1) break
    factor = next > isIn && next < isOut ? next : (isIn + isOut) / 2
  }
  return isFound ? comesIn(isIn) : told('unknown', `What would bring ${variety} in was not found out in time.`)

  function comesIn(share: number): Result<EntryPrice> {
    const cheapest = quotesAt(problem, variety, share).slice(0, 1)
    const price = cheapest.map(({ quote, entryCents }) => `: ${quote} at ${showCents(entryCents)} a pack`).join('')
    return told('comes-in', `${variety} comes in when it is ${showPercent(1 - share)} cheaper${price}.`, share)
  }
}

/** All quotes of the variety at this share of their price, breaks too, and the variety planted somewhere. */
function scaled(problem: PlanProblem, variety: string, factor: number): PlanProblem {
  return {
    ...problem,
    quotes: problem.quotes.map((quote) =>
      quote.variety !== variety
        ? quote
        : {
            ...quote,
            packPriceCents: quote.packPriceCents * factor,
            breaks: quote.breaks.map((each) => ({ ...each, packPriceCents: each.packPriceCents * factor })),
          },
    ),
    rules: { ...problem.rules, planted: [...(problem.rules.planted ?? []), { variety }] },
  }
}

/** Cheapest a pound first. */
function quotesAt(problem: PlanProblem, variety: string, factor: number | null): EntryPrice['quotes'] {
  if (factor === null) return []
  return problem.quotes
    .filter((quote) => quote.variety === variety)
    .sort((a, b) => a.packPriceCents / packWeight(a) - b.packPriceCents / packWeight(b))
    .map(({ id, packPriceCents }) => ({ quote: id, packPriceCents, entryCents: Math.floor(packPriceCents * factor) }))
}

function dearest(problem: PlanProblem, variety: string): number {
  return Math.max(1, ...problem.quotes.map((quote) => (quote.variety === variety ? quote.packPriceCents : 0)))
}
