/** What new rows cannot be without and no column gives: asked for once, and filled in as answered. Pure. */
import type { CellValue } from '../sheet/sheet.ts'
import { senseOf, type Scales } from './column-sense.ts'
import type { Context, ReadRow } from './context.ts'
import { isBlank, textOf } from './grid.ts'
import { nameBook, readCell } from './read-cell.ts'
import { plainName } from './tokens.ts'

/** What a new row cannot be without and no column gives: asked for once, for all rows that lack it. */
export function fillNeeded(context: Context, scales: Scales, all: readonly ReadRow[]) {
  const { book, columns, own, given, pathOfId, kindOf, ask } = context
  const { answers } = given
  const names = nameBook(
    book.noun === 'field' ? given.names.fields : book.noun === 'variety' ? given.names.varieties : [],
  )
  // What is there already lacks nothing.
  const isThere = (name: unknown) => typeof name === 'string' && names.has(plainName(name))
  for (const column of book.columns) {
    if (
      !column.isNeeded ||
      column.id === 'name' ||
      ['price', 'pack', 'dealer', 'variety', 'field', 'says', 'name'].includes(column.id)
    )
      continue
    const path = pathOfId.get(column.id) ?? column.id
    if (
      columns.some(
        ({ column: other }) => other.standsFor === column.id || (column.id === 'pounds' && other.id === 'packs'),
      )
    )
      continue
    const guess = columns.find(({ column: other }) => other.id === column.id)
    const marks = guess ? own(guess.at).map((cell) => textOf(cell).toLowerCase()) : []
    const isMarked = guess !== undefined && marks.length > 0 && marks.every((mark) => /^(x|y|yes|✓|✔|√)$/.test(mark))
    if (guess && !isMarked) continue
    const lacking = all.filter(
      ({ records: [record], cells }) =>
        record && record[path] === undefined && !isThere(record['name']) && cells.some((cell) => !isBlank(cell)),
    )
    if (lacking.length === 0) continue
    const answer = answers[`fill/${path}`]
    if (answer !== undefined && answer !== '') {
      const sense = senseOf(context, scales, { at: -1, heading: '', column })
      const read = readCell(answer, { ...sense, factor: 1 })
      if (read.is === 'value') {
        for (const each of lacking) {
          const [record] = each.records
          if (record) record[path] = read.value as CellValue
          each.says.push({ at: -1, what: `${column.label}: ${answer} for all` })
        }
        continue
      }
    }
    const choices = kindOf.get(column.id)?.choices ?? []
    ask(
      {
        key: `fill/${path}`,
        scope: 'table',
        header: column.label,
        says: isMarked
          ? `What is ${column.label.toLowerCase()} where “${guess?.heading ?? ''}” is not marked?`
          : `No column gives ${column.label.toLowerCase()}. What is it for these rows?`,
        answers: choices.map((choice) => ({ value: choice, says: choice })),
        suggestion: isMarked && column.id === 'water' ? 'dryland' : null,
      },
      lacking.length,
    )
  }
}
