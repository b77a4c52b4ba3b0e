/** A plan found while other things counted, in the money of the problem it is to be adopted in. Pure. */
import type { Plan, PlanBlock } from '../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'
import { lostCents } from '../../../src-shared/planted-part.ts'
import { optionsOfBlock } from './block-options.ts'
import { pricedParts, queuesOf } from './queue.ts'
import { totalsOf } from './read-back.ts'

/** The same ground and the same purchases; blocks and totals as this problem prices them. */
export function repriced(problem: PlanProblem, plan: Plan, wholeCents: boolean): Plan {
  const cents = (amount: number) => (wholeCents ? Math.round(amount) : amount)
  const queues = queuesOf(problem)
  const blocks = plan.blocks.map((block): PlanBlock => {
    const own = optionsOfBlock(problem, block)
    if (own === null) throw new Error(`${block.variety} on ${block.field} is no option of this problem.`)
    const sum = (perAcre: (option: ProblemOption) => number) =>
      cents(own.reduce((all, { option, part }) => all + part.acres * perAcre(option), 0))
    const planted = own.map(({ option, part }) => {
      const queue = queues.get(option.ripe)
      return queue === undefined ? part : { ...part, dug: pricedParts(queue, option, part.dug, cents).dug }
    })
    const again = { ...block, ...(block.planted === undefined ? {} : { planted }) }
    return {
      ...again,
      cashCents: sum(({ cashCents }) => cashCents),
      lossCents: sum(({ lossCents }) => lossCents),
      vineCents: sum(({ vineCents }) => vineCents),
      giveUpCents: sum(({ giveUpCents }) => giveUpCents) + lostCents(again),
    }
  })
  const parts = { ...plan, blocks }
  return { ...parts, totals: totalsOf(problem, parts, cents) }
}
