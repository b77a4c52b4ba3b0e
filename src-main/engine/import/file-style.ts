/** What in a file could be read two ways, and how it is read once that is answered. Nothing is guessed. Pure. */
import type { Question, Style } from '../../../src-shared/sheet/bring-in.ts'
import { slashDay, type DayOrder } from '../../../src-shared/sheet/day-text.ts'
import type { Kind } from '../../../src-shared/sheet/kind.ts'
import { showDay } from '../../../src-shared/show.ts'
import type { Cell } from './read-cells.ts'

export interface MatchedColumn {
  header: string
  kind: Kind
  cells: readonly Cell[]
}

const point = /^(\d{1,3}(,\d{3})+|\d+)?(\.\d+)?$/
const comma = /^(\d{1,3}(\.\d{3})+|\d+)?(,\d+)?$/

/** The digits with their marks, without sign, currency or unit. */
function digitsOf(text: string): string {
  return /[\d.,]*\d[\d.,]*/.exec(text)?.[0] ?? ''
}

/** Questions that are not answered yet. */
export function questionsOf(columns: readonly MatchedColumn[], style: Style): Question[] {
  const found = [numbersQuestion(columns), daysQuestion(columns), sharesQuestion(columns)]
  return found.filter((question) => question !== null && style[question.about] === undefined) as Question[]
}

function numbersQuestion(columns: readonly MatchedColumn[]): Question | null {
  let isPoint = false
  let doubt: { text: string; header: string } | null = null
  let isComma = false
  for (const { header, kind, cells } of columns) {
    if (kind.asks !== 'number' && kind.asks !== 'percent') continue
    for (const cell of cells) {
      if (typeof cell !== 'string') continue
      const digits = digitsOf(cell)
      if (!/[.,]/.test(digits)) continue
      const [asPoint, asComma] = [point.test(digits), comma.test(digits)]
      if (asPoint && !asComma) isPoint = true
      if (asComma && !asPoint) isComma = true
      if (asComma && (!asPoint || doubt === null)) doubt = { text: cell, header }
    }
  }
  // Some number that can only have a point settles those that could have either.
  if (doubt === null || (isPoint && !isComma)) return null
  return {
    about: 'numbers',
    example: doubt.text,
    header: doubt.header,
    answers: [
      { value: 'point', says: 'a point before the decimals, as 1,234.5' },
      { value: 'comma', says: 'a comma before the decimals, as 1.234,5' },
    ],
  }
}

/**
 * Which order the days of a column prove: one such as 13/06 can be read in one way only. "both" where they contradict one
 * another, null where nothing is proven.
 */
function provenOrder(cells: readonly Cell[]): DayOrder | 'both' | null {
  const proven = new Set<DayOrder>()
  for (const cell of cells) {
    const [mdy, dmy] = [slashDay(String(cell), 'mdy'), slashDay(String(cell), 'dmy')]
    if (mdy !== null && dmy === null) proven.add('mdy')
    if (dmy !== null && mdy === null) proven.add('dmy')
  }
  if (proven.size === 2) return 'both'
  return [...proven][0] ?? null
}

/** How one column is read: its own days go before what was answered for the file. */
export function styleOf(kind: Kind, cells: readonly Cell[], style: Style): Style {
  const proven = kind.asks === 'day' ? provenOrder(cells) : null
  if (proven === null) return style
  const { days: _, ...rest } = style
  // Days that contradict one another: what could be read two ways is refused, cell by cell.
  return proven === 'both' ? rest : { ...rest, days: proven }
}

function daysQuestion(columns: readonly MatchedColumn[]): Question | null {
  for (const { header, kind, cells } of columns) {
    if (kind.asks !== 'day' || provenOrder(cells) !== null) continue
    for (const cell of cells) {
      const [mdy, dmy] = [slashDay(String(cell), 'mdy'), slashDay(String(cell), 'dmy')]
      if (mdy === null || dmy === null || mdy === dmy) continue
      return {
        about: 'days',
        example: String(cell),
        header,
        answers: [
          { value: 'mdy', says: `month first: ${showDay(mdy)}` },
          { value: 'dmy', says: `day first: ${showDay(dmy)}` },
        ],
      }
    }
  }
  return null
}

/** Workbooks keep 87 % as 0.87 and do not say so. */
function sharesQuestion(columns: readonly MatchedColumn[]): Question | null {
  for (const { header, kind, cells } of columns) {
    if (kind.asks !== 'percent') continue
    const figures = cells.filter((cell) => cell !== '' && !String(cell).includes('%')).map(Number)
    const some = figures.find((figure) => figure > 0 && figure < 1)
    if (some === undefined || figures.some((figure) => figure > 1)) continue
    return {
      about: 'shares',
      example: String(some),
      header,
      answers: [
        { value: 'share', says: `a share: ${Number((some * 100).toFixed(4))} %` },
        { value: 'percent', says: `percent already: ${some} %` },
      ],
    }
  }
  return null
}

/** A cell as the kind reads it: point before the decimals, ISO days, percent in percent. */
export function plainText(cell: Cell, kind: Kind, style: Style): string {
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no'
  let text = typeof cell === 'number' ? String(cell) : cell.trim()
  const isFigure = kind.asks === 'number' || kind.asks === 'percent'
  if (isFigure && typeof cell === 'string' && style.numbers === 'comma') {
    text = text.replace(/[.,]/g, (mark) => (mark === ',' ? '.' : ''))
  }
  if (kind.asks === 'percent' && style.shares === 'share' && text !== '' && !text.includes('%')) {
    const share = Number(text)
    if (Number.isFinite(share)) text = String(Number((share * 100).toPrecision(12)))
  }
  if (kind.asks === 'day' && style.days !== undefined) text = slashDay(text, style.days) ?? text
  return text
}
