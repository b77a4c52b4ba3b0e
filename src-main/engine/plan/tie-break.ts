/**
 * The documented order among plans of equal cost: first fewest fields moved from the plan in hand; then, field by field
 * in the order of their names, the variety, window and programme that come first by name; then quotes that come first
 * by name. Rows are sorted before any model is built, so "first" is the same however the data came.
 */
import type { Build } from './build.ts'
import { optionAt } from './build.ts'
import { isMove, varietiesInHand } from './moves.ts'

/** Half a cent, in the solver's unit: plans closer than this cost the same. */
const SAME_COST = 0.005

/** Holds the model to the cost found and makes the order its only goal. */
export function orderTies(build: Build, cost: number): void {
  const { model, problem } = build
  const inHand = varietiesInHand(problem)
  model.limitCost(cost + SAME_COST)
  model.forgetCosts()
  const fields = [...build.byField.values()]
  fields.forEach((own, f) => {
    // Earlier fields weigh more, evenly so that no weight is lost in rounding; later ones still count.
    const weight = 1 + (fields.length - f) / (fields.length + 1)
    own.forEach(({ option, share }, rank) => {
      const moved = isMove(inHand, optionAt(problem, option)) ? MOVE_WEIGHT : 0
      model.addCost(share, weight * (rank / own.length) + moved)
    })
  })
  build.packs.forEach(({ column }, rank) => model.addCost(column, (PACK_WEIGHT * (rank + 1)) / build.packs.length))
}

/** A move outweighs any order of names. */
const MOVE_WEIGHT = 1000
/** Packs count last: hundreds of them must not outweigh a field. */
const PACK_WEIGHT = 1e-5
