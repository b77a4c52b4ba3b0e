/**
 * Is a value one that the place takes? The same question for a typed cell, a pasted block and an imported row, asked
 * of the noun's own schema, so that a grid, a season file and the engine agree on every range and every name.
 */
import * as v from 'valibot'
import { checkBoundary } from '../../../src-shared/boundary-check.ts'
import type { Boundary } from '../../../src-shared/field.ts'
import type { Problem, ProblemCode } from '../../../src-shared/problem.ts'
import type { SheetName } from '../../../src-shared/sheet/sheet.ts'
import { showShort } from '../../../src-shared/show.ts'
import type { Store } from './store.ts'
import type { NamedTable, Writer } from './writer.ts'

export interface Checked {
  property: string
  entry: string | null
  value: unknown
}

type Answer = { ok: true; value: Checked } | { ok: false; problem: Problem }

/** Records whose entries are by threat, and pairs whose entries are properties. */
const byThreat = new Set(['pressure', 'ratings', 'efficacy'])

export function problemAt(sheet: SheetName, path: string, code: ProblemCode, what: string, remedy: string): Problem {
  return { code, what, where: { table: sheet, column: path }, remedy }
}

/** @param path as `acres` or `pressure/spotted wilt` */
export function checkValue(writer: Writer, sheet: SheetName, store: Store, path: string, given: unknown): Answer {
  const slash = path.indexOf('/')
  const property = slash < 0 ? path : path.slice(0, slash)
  const entry = slash < 0 ? null : path.slice(slash + 1)
  const refuse = (code: ProblemCode, what: string, remedy: string): Answer => ({
    ok: false,
    problem: problemAt(sheet, path, code, what, remedy),
  })
  const schema = Object.hasOwn(store.entries, property) ? store.entries[property] : undefined
  if (schema === undefined || (entry !== null) !== (byThreat.has(property) || property === 'split')) {
    return refuse('bad-value', `There is no column “${path}” here.`, 'Reload the window.')
  }
  const isEmpty = given === null || (typeof given === 'string' && given.trim() === '')
  if (entry !== null) return checkEntry(schema)
  if (isEmpty) {
    // A column with a default is never empty: the default is for files, not for a cell that was cleared.
    if (isOptional(schema) && (schema.default === undefined || Array.isArray(schema.default))) {
      return { ok: true, value: { property, entry, value: schema.default ?? null } }
    }
    return refuse('missing', 'This cell cannot be empty.', 'Enter a value, or press Escape to keep the old one.')
  }
  return check(schema, given)

  function checkEntry(record: v.GenericSchema): Answer {
    if (byThreat.has(property) && writer.idOf('threat', String(entry)) === undefined) {
      return refuse('unknown-name', `There is no threat named “${entry}”.`, 'Add it under House rules, Threats.')
    }
    if (isEmpty) return { ok: true, value: { property, entry, value: null } }
    const inner = inside(record)
    if (property !== 'split') return check((inner as unknown as { value: v.GenericSchema }).value, given)
    const entries = (inner as unknown as { entries: Record<string, v.GenericSchema> }).entries
    const one = entries[String(entry)]
    return one ? check(one, given) : refuse('bad-value', `There is no column “${path}” here.`, 'Reload the window.')
  }

  function check(against: v.GenericSchema, value: unknown): Answer {
    if (typeof value !== 'number' && JSON.stringify(value).includes('\\u0000'))
      return refuse('bad-value', notTaken(value, 'must not hold a NUL character'), typeAnother)
    const checked = v.safeParse(against, value)
    if (!checked.success) {
      const [issue] = checked.issues
      return refuse('bad-value', notTaken(value, issue.message), typeAnother)
    }
    if (property === 'boundary') {
      const boundary = checkBoundary(checked.output as Boundary)
      if (!boundary.ok) return refuse('bad-value', boundary.what, boundary.remedy)
    }
    if (property === 'history') {
      const year = Number(writer.one('SELECT year FROM season WHERE id = ?', writer.seasonId))
      const ahead = (checked.output as { season: number }[]).find(({ season }) => season > year)
      if (ahead) {
        const what = `${ahead.season} is after season ${year}: the history holds what grew already.`
        return refuse('bad-value', what, 'Correct the year.')
      }
    }
    const unknown = unknownName(checked.output)
    return unknown ?? { ok: true, value: { property, entry, value: checked.output } }
  }

  function unknownName(value: unknown): Answer | null {
    const table: NamedTable | undefined = property === 'windows' ? 'planting_window' : store.refers?.[property]
    if (!table) return null
    const missing = [value].flat().find((name) => writer.idOf(table, String(name)) === undefined)
    if (missing === undefined) return null
    const [word, where] = placeOf[table] ?? ['thing', 'its own page']
    return refuse(
      'unknown-name',
      `There is no ${word} named “${String(missing)}”.`,
      `Add it under ${where} first, or correct the name.`,
    )
  }
}

const typeAnother = 'Enter a value that the column takes.'

const placeOf: Partial<Record<NamedTable, readonly [word: string, where: string]>> = {
  planting_window: ['planting window', 'House rules, Planting windows'],
  variety: ['variety', 'Varieties'],
  dealer: ['dealer', 'Quotes, Dealers'],
  field_season: ['field', 'Fields'],
  threat: ['threat', 'House rules, Threats'],
}

function isOptional(schema: v.GenericSchema): schema is v.GenericSchema & { default?: unknown } {
  return schema.type === 'optional'
}

/** The record or object below an optional. */
function inside(schema: v.GenericSchema): v.GenericSchema {
  return isOptional(schema) ? (schema as unknown as { wrapped: v.GenericSchema }).wrapped : schema
}

/** A message of ours starts with must or is; the schema library's own are replaced. */
function notTaken(value: unknown, message: string): string {
  const isOurs = /^(must|is) /.test(message)
  const text = typeof value === 'object' ? 'This' : `“${showShort(String(value), 41)}”`
  return `${text} is not taken here: the value ${isOurs ? message : 'is of another kind'}.`
}
