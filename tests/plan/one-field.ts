/** The smallest farm that has a choice: one field of 10 acres, varieties A and B at 100 lb an acre, bags of 50 lb at $50. */
import { readPlanProblem, type PlanProblem } from '../../src-shared/plan-problem.ts'

export function oneField(): PlanProblem {
  const varieties = ['A', 'B']
  const problem = readPlanProblem(
    {
      format: 'standwell-problem',
      version: 1,
      fields: [{ id: 'F', acres: 10 }],
      varieties: varieties.map((id) => ({ id, oilType: 'high oleic' })),
      options: varieties.map((variety) => ({
        field: 'F',
        variety,
        window: 'Usual',
        cashCents: 1000,
        lossCents: 0,
        poundsPerAcre: 100,
      })),
      dealers: [{ id: 'N' }],
      quotes: varieties.map((variety) => ({
        id: `N ${variety}`,
        dealer: 'N',
        variety,
        packPounds: 50,
        packPriceCents: 5000,
      })),
    },
    'one field',
  )
  if (!problem.ok) throw new Error(JSON.stringify(problem.problems))
  return problem.value
}
