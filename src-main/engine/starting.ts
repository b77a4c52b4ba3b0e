/** Proposals that a person accepted, written into the open farm as one step: rows of its sheets, and assumptions. */
import type { Input } from '../../src-shared/api.ts'
import { ProblemError, type Problem } from '../../src-shared/problem.ts'
import type { OpenFarm } from './farm-file.ts'
import { setBook } from './house-book.ts'
import { listSheet } from './sheets/list-sheet.ts'
import { checkValue } from './sheets/check-value.ts'
import { newRow } from './sheets/new-row.ts'
import { shapes, stores } from './sheets/stores.ts'
import { Writer } from './sheets/writer.ts'
import { matcherOf } from '../../src-shared/sheet/same-row.ts'
import { listRules } from './rules.ts'

type Row = { id: number } & Record<string, unknown>

async function rowsOf(farm: OpenFarm, sheet: Input<'region.take'>['rows'][number]['sheet']): Promise<Row[]> {
  if (sheet === 'rule') return (await listRules(farm.db, farm.seasonId)) as unknown as Row[]
  return listSheet(farm.connection, farm.seasonId, shapes[sheet]) as unknown as Row[]
}

/** A row of the same name, rule or week that is there takes the values; else it is added. All or nothing: what is refused ends the step. */
export async function takeProposals(farm: OpenFarm, { rows, book }: Input<'region.take'>): Promise<null> {
  const writer = new Writer(farm.connection, farm.seasonId)
  const refused: Problem[] = []
  for (const { sheet, values } of rows) {
    const store = stores[sheet]
    const there = matcherOf(sheet, await rowsOf(farm, sheet)).find(values)
    // Diseases that the farm does not keep are left out of what a program stops.
    const flat = flattened(values).filter(
      ([path]) => !path.startsWith('efficacy/') || writer.idOf('threat', path.slice('efficacy/'.length)) !== undefined,
    )
    if (!there) {
      const made = newRow(writer, sheet, store, Object.fromEntries(flat))
      refused.push(...made.problems.map(({ problem }) => problem))
      if (made.values) store.insert(writer, made.values)
      continue
    }
    for (const [path, value] of flat) {
      const checked = checkValue(writer, sheet, store, path, value)
      if (!checked.ok) refused.push(checked.problem)
      else store.update(writer, there.id, checked.value.property, checked.value.entry, checked.value.value)
    }
  }
  for (const { key, value } of book) await setBook(farm, key, { value })
  if (refused.length > 0) throw new ProblemError(refused)
  return null
}

/** Entries of a record by their paths, as `efficacy/late leaf spot`. */
function flattened(values: Record<string, unknown>): [string, unknown][] {
  return Object.entries(values).flatMap(([path, value]): [string, unknown][] =>
    typeof value === 'object' && value !== null && !Array.isArray(value)
      ? Object.entries(value).map(([entry, own]) => [`${path}/${entry}`, own])
      : [[path, value]],
  )
}
