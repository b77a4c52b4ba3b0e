/**
 * The columns of every sheet: label, unit, kind of cell, the headings a file may have for it. The grid draws them, the
 * importer matches them, the exports are headed by them. They come from the nouns' definitions.
 */
import { contractColumns } from '../contract.ts'
import { costColumns } from '../cost.ts'
import { fieldColumns } from '../field.ts'
import { loadColumns } from '../load.ts'
import { dealerColumns, quoteColumns } from '../quote.ts'
import { seenColumns } from '../seen.ts'
import { measureColumns, threatColumns } from '../threat.ts'
import { carriedColumns, varietyColumns } from '../variety.ts'
import { weekColumns } from '../week.ts'
import { machineColumns, windowColumns } from '../window.ts'
import { note, type Names, type SheetColumn } from './column.ts'
import { number, words, yesNo } from './kind.ts'
import type { CellValue, SheetName } from './sheet.ts'

export type { Names, SheetColumn }

const ruleColumns: SheetColumn[] = [
  { id: 'rule', label: 'Rule', kind: words, isNeeded: true },
  { id: 'subject', label: 'About', kind: words },
  { id: 'amount', label: 'Amount', kind: number() },
  { id: 'isOn', label: 'On', kind: yesNo },
  note,
]

const all: Record<SheetName, (names: Names) => SheetColumn[]> = {
  field: fieldColumns,
  variety: varietyColumns,
  dealer: dealerColumns,
  quote: quoteColumns,
  carried: carriedColumns,
  window: windowColumns,
  week: weekColumns,
  machine: machineColumns,
  measure: measureColumns,
  threat: threatColumns,
  rule: () => ruleColumns,
  load: loadColumns,
  seen: seenColumns,
  cost: costColumns,
  contract: contractColumns,
}

/** @param names of the farm's own, which some sheets have a column of each of */
export function columnsOf(sheet: SheetName, names: Names): SheetColumn[] {
  return all[sheet](names)
}

/**
 * Paths that tell one row of a sheet from another: two rows that agree in all of them are the same. Of a load its ticket
 * goes before: `same-row.ts`.
 */
export const keyPaths: Record<SheetName, readonly string[]> = {
  field: ['name'],
  variety: ['name'],
  dealer: ['name'],
  quote: ['dealer', 'variety', 'name'],
  carried: ['variety', 'lot'],
  window: ['name'],
  week: ['starts'],
  machine: ['name'],
  measure: ['name'],
  threat: ['name'],
  rule: ['rule', 'subject'],
  load: ['field', 'hauledOn', 'grossPounds', 'tarePounds'],
  seen: ['field', 'threat', 'seenOn'],
  cost: ['kind', 'says', 'field', 'dealer', 'spentOn'],
  contract: ['name'],
}

/** Where the column's value stands in a row, as `acres` or `ratings/spotted wilt`. */
export function pathOf(column: SheetColumn): string {
  return column.path ?? column.id
}

/** What a row has at a path; null where there is nothing. */
export function valueAt(row: object, path: string): CellValue {
  const slash = path.indexOf('/')
  const own = (thing: unknown, key: string): unknown =>
    typeof thing === 'object' && thing !== null && Object.hasOwn(thing, key) ? (thing as never)[key] : null
  const value = slash < 0 ? own(row, path) : own(own(row, path.slice(0, slash)), path.slice(slash + 1))
  return (value ?? null) as CellValue
}
