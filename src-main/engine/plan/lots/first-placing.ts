/** A first placing, by hand as it were: a start for the solver, and what there is when it is stopped at once. */
import type { FieldToSow, LotProblem, LotToPlace } from '../../../../src-shared/lot-placing.ts'
import { cleanOutKey, type LotBuild } from './lot-model.ts'

/** Carried lots first, weak ones last on cold ground and first elsewhere, each used up before the next is opened. */
export function firstPlacing({ problem, model, pairs, short, cleanOuts }: LotBuild): Float64Array {
  // Columns that are held to one value start there.
  const columns = Float64Array.from(model.arrays().lower)
  const left = problem.lots.map(({ pounds }) => pounds)
  for (const [f, field] of fieldOrder(problem)) {
    let open = 1
    const own = pairs.filter((pair) => pair.field === f)
    const order = own.toSorted((a, b) => urgency(a.from, field.isCold) - urgency(b.from, field.isCold))
    for (const { lot, share, used, need } of order) {
      const part = Math.min(open, (left[lot] as number) / need)
      if (part <= 1e-6) continue
      columns[share] = part
      columns[used] = 1
      columns[cleanOuts.get(cleanOutKey(lot, field.window)) as number] = 1
      left[lot] = (left[lot] as number) - part * need
      open -= part
      if (open <= 1e-9) break
    }
    columns[short[f] as number] = Math.max(0, open)
  }
  return columns
}

/** Locked fields first, then cold ground, window by window, the largest first. */
function fieldOrder({ fields, locks }: LotProblem): [number, FieldToSow][] {
  const rank = ({ id, isCold }: FieldToSow) => (locks.some((lock) => lock.field === id) ? 0 : 2) + (isCold ? 0 : 1)
  return [...fields.entries()].sort(
    ([, a], [, b]) => rank(a) - rank(b) || a.window.localeCompare(b.window) || b.acres - a.acres,
  )
}

function urgency({ isWeak, isCarried }: LotToPlace, isCold: boolean): number {
  if (isCold && isWeak) return 3
  return isCarried ? 0 : isWeak ? 1 : 2
}
