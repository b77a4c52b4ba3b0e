/**
 * Which row of a sheet a row of a file is: the one with the same names. A load is told by its ticket, and where both say a
 * buyer by the buyer too; one without a ticket by field, day and weights. Pure.
 */
import { keyPaths, valueAt } from './columns.ts'
import type { SheetName } from './sheet.ts'

export interface Matcher<Row> {
  /** Two rows of one file with the same key are one written twice. */
  keyOf(values: object): string
  /** What told it, as the reason is worded. */
  pathsOf(values: object): readonly string[]
  find(values: object): Row | undefined
}

const textAt = (values: object, path: string) => String(valueAt(values, path) ?? '').toLowerCase()

/** @param standing rows of the sheet that are there */
export function matcherOf<Row extends object>(sheet: SheetName, standing: readonly Row[]): Matcher<Row> {
  const paths = (values: object) =>
    sheet === 'load' && textAt(values, 'ticket') !== '' ? ['ticket', 'buyer'] : keyPaths[sheet]
  // What is not written of a load's tare is none.
  const part = (values: object, path: string) => textAt(values, path) || (path === 'tarePounds' ? '0' : '')
  const keyOf = (values: object) =>
    paths(values)
      .map((path) => part(values, path))
      .join('\n')
  const byKey = new Map<string, Row>()
  const byTicket = new Map<string, Row[]>()
  for (const row of standing) {
    byKey.set(keyOf(row), row)
    const ticket = sheet === 'load' ? textAt(row, 'ticket') : ''
    if (ticket !== '') byTicket.set(ticket, [...(byTicket.get(ticket) ?? []), row])
  }
  return {
    keyOf,
    pathsOf: paths,
    find(values) {
      const exact = byKey.get(keyOf(values))
      if (exact || sheet !== 'load') return exact
      const own = byTicket.get(textAt(values, 'ticket')) ?? []
      const buyer = textAt(values, 'buyer')
      const fits = own.filter((row) => buyer === '' || textAt(row, 'buyer') === '')
      return fits.length === 1 ? fits[0] : undefined
    },
  }
}
