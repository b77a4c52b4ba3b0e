/** A first placing, by hand as it were: a start for the solver, and what there is when it is stopped at once. */
import type { LotProblem } from '../../../../src-shared/lot-placing.ts'
import { cleanOutKey, type LotBuild } from './lot-model.ts'

/** Carried lots first, weak ones last on cold ground and first elsewhere, each used up before the next is opened. */
export function firstPlacing({ problem, model, pairs, short, cleanOuts }: LotBuild): Float64Array {
  const { lots, fields } = problem
  // Columns that are held to one value start there.
  const columns = Float64Array.from(model.arrays().lower)
  const left = lots.map(({ pounds }) => pounds)
  for (const f of fieldOrder(problem)) {
    const field = fields[f]
    if (field === undefined) continue
    let open = 1
    const own = pairs.filter((pair) => pair.field === f)
    const order = own.toSorted((a, b) => urgency(problem, a.lot, field.isCold) - urgency(problem, b.lot, field.isCold))
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
function fieldOrder({ fields, locks }: LotProblem): number[] {
  const isLocked = (id: string) => locks.some((lock) => lock.field === id)
  const rank = (f: number) => {
    const field = fields[f]
    return [field && isLocked(field.id) ? 0 : 1, field?.isCold ? 0 : 1] as const
  }
  return fields
    .map((_, f) => f)
    .sort((a, b) => {
      const [lockedA, coldA] = rank(a)
      const [lockedB, coldB] = rank(b)
      const windows = (fields[a]?.window ?? '').localeCompare(fields[b]?.window ?? '')
      return lockedA - lockedB || coldA - coldB || windows || (fields[b]?.acres ?? 0) - (fields[a]?.acres ?? 0)
    })
}

function urgency({ lots }: LotProblem, lot: number, isCold: boolean): number {
  const own = lots[lot]
  if (own === undefined) return 9
  if (isCold && own.isWeak) return 3
  return own.isCarried ? 0 : own.isWeak ? 1 : 2
}
