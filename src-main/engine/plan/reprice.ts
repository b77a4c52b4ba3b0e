/** A plan found while other things counted, in the money of the problem it is to be adopted in. Pure. */
import type { Plan } from '../../../src-shared/plan.ts'
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import { optionsOfBlock } from './block-options.ts'
import { totalsOf } from './read-back.ts'

/** The same ground and the same purchases; blocks and totals as this problem prices them. */
export function repriced(problem: PlanProblem, plan: Plan, wholeCents: boolean): Plan {
  const cents = (amount: number) => (wholeCents ? Math.round(amount) : amount)
  const blocks = plan.blocks.map((block) => {
    const option = optionsOfBlock(problem, block).find(({ poundsPerAcre }) => poundsPerAcre === block.poundsPerAcre)
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
