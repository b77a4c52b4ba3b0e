/** Why each field has the lots it has, in the manager's words. */
import type { FieldToSow, LotOnField, LotPlacing, LotProblem, LotToPlace } from '../../../../src-shared/lot-placing.ts'

export function whyEach(
  problem: LotProblem,
  placed: readonly LotOnField[],
  short: LotPlacing['short'],
): LotPlacing['why'] {
  const lotOf = new Map(problem.lots.map((lot) => [lot.id, lot]))
  return problem.fields.map((field) => {
    const own = placed.filter((each) => each.field === field.id)
    const missing = short.find((each) => each.field === field.id)
    const parts = own.flatMap((each) => whyOne(problem, field, lotOf.get(each.lot), placed))
    if (own.length > 1) parts.push(manyLots(field, own, lotOf))
    if (missing !== undefined) parts.push(`No lot has seed left for ${missing.acres.toFixed(1)} acres.`)
    return { field: field.id, says: [...new Set(parts)].join(' ') }
  })
}

function whyOne(
  { fields, locks }: LotProblem,
  field: FieldToSow,
  lot: LotToPlace | undefined,
  placed: readonly LotOnField[],
): string[] {
  if (lot === undefined) return []
  if (locks.some((lock) => lock.field === field.id && lock.lot === lot.id)) return [`Kept for lot ${lot.id}.`]
  const others = placed.filter((each) => each.lot === lot.id && each.field !== field.id)
  const sameWindow = others.filter((each) => fields.find(({ id }) => id === each.field)?.window === field.window)
  if (lot.isCarried) return [`Lot ${lot.id} is last year’s and is used first.`]
  if (lot.isWeak && field.isCold) return [`Lot ${lot.id} is weak for cold ground; there is no stronger seed left.`]
  if (lot.isWeak) return [`Lot ${lot.id} is weak and goes where the ground is warm.`]
  if (field.isCold) return [`Lot ${lot.id} is strong enough for cold ground.`]
  if (sameWindow.length > 0)
    return [`Lot ${lot.id} is in the hoppers for ${sameWindow[0]?.field ?? ''} in the same window already.`]
  return [`Lot ${lot.id} reaches for it with least left over.`]
}

function manyLots(field: FieldToSow, own: readonly LotOnField[], lotOf: ReadonlyMap<string, LotToPlace>): string {
  const isAnyEnough = own.some((each) => (lotOf.get(each.lot)?.pounds ?? 0) >= (each.pounds / each.acres) * field.acres)
  return isAnyEnough
    ? 'More than one lot, to use an opened one up.'
    : 'More than one lot, for none of them is large enough alone.'
}
