/** A plan found while other things counted, in the money of the problem it is to be adopted in. Pure. */
import type { Plan, PlanBlock } from '../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'
import { totalsOf } from './read-back.ts'

/** The option that a block was planted by; undefined where the problem has none such. */
export function optionOfBlock(problem: PlanProblem, block: PlanBlock): ProblemOption | undefined {
  return problem.options.find(
    (option) =>
      option.field === block.field &&
      option.variety === block.variety &&
      option.window === block.window &&
      option.programme.length === block.programme.length &&
      option.programme.every((name, index) => name === block.programme[index]) &&
      option.poundsPerAcre === block.poundsPerAcre,
  )
}

/** The same ground and the same purchases; blocks and totals as this problem prices them. */
export function repriced(problem: PlanProblem, plan: Plan, wholeCents: boolean): Plan {
  const cents = (amount: number) => (wholeCents ? Math.round(amount) : amount)
  const blocks = plan.blocks.map((block) => {
    const option = optionOfBlock(problem, block)
    if (option === undefined) throw new Error(`${block.variety} on ${block.field} is no option of this problem.`)
    return {
      ...block,
      cashCents: cents(block.acres * option.cashCents),
      lossCents: cents(block.acres * option.lossCents),
      vineCents: cents(block.acres * option.vineCents),
      giveUpCents: cents(block.acres * option.giveUpCents),
    }
  })
  const parts = { ...plan, blocks }
  return { ...parts, totals: totalsOf(problem, parts, cents) }
}
