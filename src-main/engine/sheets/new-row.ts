/** A row to be added: its cells checked one by one, put together into the noun, and looked at as a whole. */
import * as v from 'valibot'
import type { Problem } from '../../../src-shared/problem.ts'
import { columnsOf, pathOf } from '../../../src-shared/sheet/columns.ts'
import { sheetWords, type SheetName } from '../../../src-shared/sheet/sheet.ts'
import { checkValue, problemAt } from './check-value.ts'
import type { Noun, Store } from './store.ts'
import type { Writer } from './writer.ts'

export interface NewRow {
  /** Null where the row cannot be added. */
  values: Noun | null
  problems: { path: string; problem: Problem }[]
}

/** Cells that are not taken are left out of the row; it can be added if what is left is enough. */
export function newRow(
  writer: Writer,
  sheet: SheetName,
  store: Store,
  cells: Record<string, unknown>,
  /** How a cell is checked; an import remembers the answers. */
  check = (path: string, given: unknown) => checkValue(writer, sheet, store, path, given),
): NewRow {
  const problems: NewRow['problems'] = []
  const values: Noun = { ...store.start }
  for (const [path, given] of Object.entries(cells)) {
    if (given === null || (typeof given === 'string' && given.trim() === '')) continue
    const checked = check(path, given)
    if (!checked.ok) {
      problems.push({ path, problem: checked.problem })
      continue
    }
    const { property, entry, value } = checked.value
    values[property] = entry === null ? value : { ...(values[property] as object | undefined), [entry]: value }
  }
  if (sheet === 'field') completeSplit(values)
  // Ratings may be none, but the property is there in every noun that has them.
  if ('ratings' in store.entries) values['ratings'] ??= {}
  const missing = missingOf(sheet, store, values).filter((path) => !problems.some((each) => each.path === path))
  problems.push(
    ...missing.map((path) => ({
      path,
      problem: problemAt(sheet, path, 'missing', 'The row needs this to be added.', 'Fill it in.'),
    })),
  )
  const parsed = v.safeParse(wholeOf(store), values)
  if (!parsed.success) return { values: null, problems }
  const lacks = store.lacks?.(writer, null, parsed.output)
  if (lacks) {
    const problem = problemAt(sheet, lacks.path, 'missing', `${lacks.what}.`, 'Fill it in.')
    return { values: null, problems: [...problems, { path: lacks.path, problem }] }
  }
  const askew = store.askew?.(writer, null, parsed.output)
  if (askew) {
    const problem = problemAt(sheet, askew.path, 'bad-value', `${askew.what}.`, askew.remedy)
    return { values: null, problems: [...problems, { path: askew.path, problem }] }
  }
  const clash = store.clash(writer, null, parsed.output)
  if (clash !== null) {
    const remedy = `Give this ${sheetWords[sheet].one} a name of its own.`
    return {
      values: null,
      problems: [
        ...problems,
        {
          path: 'name' in store.entries ? 'name' : 'subject',
          problem: problemAt(sheet, 'name', 'repeated-name', `${clash}.`, remedy),
        },
      ],
    }
  }
  return { values: parsed.output, problems }
}

const wholes = new WeakMap<Store, ReturnType<typeof v.strictObject<Store['entries']>>>()

/** The noun's schema, made once: a file has thousands of rows. */
function wholeOf(store: Store) {
  let whole = wholes.get(store)
  if (!whole) wholes.set(store, (whole = v.strictObject(store.entries)))
  return whole
}

function completeSplit(values: Noun) {
  const split = values['split'] as { leastBlockAcres?: number; mostVarieties?: number } | undefined
  if (split) values['split'] = { leastBlockAcres: split.leastBlockAcres ?? 0, mostVarieties: split.mostVarieties ?? 2 }
}

const needed = new Map<SheetName, string[]>()

/** Paths that a row of this sheet cannot be without and that are not there. */
function missingOf(sheet: SheetName, store: Store, values: Noun): string[] {
  let paths = needed.get(sheet)
  if (!paths) {
    const columns = columnsOf(sheet, { threats: [] }).filter((column) => column.isNeeded)
    paths = columns.map(pathOf).filter((path) => path in store.entries)
    needed.set(sheet, paths)
  }
  return paths.filter((path) => values[path] === undefined)
}
