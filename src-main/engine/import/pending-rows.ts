/** Rows that come in with one table as the tables after it see them: a sample of a field that the same import adds finds it. Pure. */
import type { Judged } from './judge-rows.ts'

export type StandingRow = { id: number } & object

/** Below zero: a row that is not written yet. */
let last = 0

/**
 * Puts what a judged table adds and changes into the rows that stand.
 * @param standing rows of its sheet; those that are changed are replaced, none is written to
 * @returns the ids that its added rows have until they are written
 */
export function notePendingRows(standing: StandingRow[], { added, changed }: Judged): number[] {
  const byId = new Map(standing.map(({ id }, at) => [id, at]))
  for (const { id, property, entry, value } of changed) {
    const at = byId.get(id)
    const row = at === undefined ? undefined : (standing[at] as (StandingRow & Record<string, unknown>) | undefined)
    if (at === undefined || row === undefined) continue
    const now = entry === null ? value : { ...(row[property] as object | undefined), [entry]: value }
    standing[at] = { ...row, [property]: now }
  }
  return added.map((values) => {
    last -= 1
    standing.push({ ...values, id: last })
    return last
  })
}
