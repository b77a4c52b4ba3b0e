/**
 * Kinds of cell: how what is typed or pasted becomes the noun's value, how the value is typed again and how it is
 * shown. One place for the grid, the importer and the exports, so that what goes out comes in again.
 */
import type { Reading } from '../read-text.ts'
import { readDollars, readList, readNumber, readOneOf, readPercent, readWords, readYesNo } from '../read-text.ts'
import { atMost, showCents, showDay, showNumber } from '../show.ts'
import { readDay, readMonthDay, showMonthDay } from './day-text.ts'
import type { CellValue } from './sheet.ts'

/** How a file's text of this kind may have to be asked about: decimal commas, order of dates, shares for percent. */
export type Asks = 'number' | 'percent' | 'day' | null

export interface Kind {
  isFigure: boolean
  asks: Asks
  /** The only values taken. */
  choices?: readonly string[]
  /** Of text that is not empty. */
  read(text: string): Reading<CellValue>
  /** As it is typed: `read` gives the value back. */
  type(value: CellValue): string
  /** As it is read. */
  show(value: CellValue): string
  sort(value: CellValue): string | number | null
  /** In the unit of the header, for sums and for exports; absent where the value is no number. */
  figure?(value: CellValue): number
}

const text = (value: CellValue): string => (value === null ? '' : String(value))

export const words: Kind = {
  isFigure: false,
  asks: null,
  read: readWords,
  type: text,
  show: text,
  sort: (value) => text(value).toLowerCase() || null,
}

/**
 * One of a few; sorted in the order given, which is the order of their meaning.
 * @param alsoCalled what else is taken for each of them, in small letters
 */
export function choice<Word extends string>(
  choices: readonly Word[],
  alsoCalled?: Readonly<Record<Word, readonly string[]>>,
): Kind {
  const at = (value: CellValue) => (choices as readonly string[]).indexOf(text(value))
  return { ...words, choices, read: readOneOf(choices, alsoCalled), sort: at }
}

export const yesNo: Kind = {
  ...words,
  choices: ['yes', 'no'],
  read: readYesNo,
  type: (value) => (value === null ? '' : value ? 'yes' : 'no'),
  show: (value) => (value === null ? '' : value ? 'yes' : 'no'),
  sort: (value) => (value === null ? null : Number(value)),
}

function figures(part: Pick<Kind, 'read' | 'type' | 'show'> & { asks?: Asks; scale?: number }): Kind {
  const { asks = 'number', scale = 1, ...rest } = part
  const figure = (value: CellValue) => Number((Number(value) * scale).toPrecision(12))
  return { isFigure: true, asks, ...rest, sort: (value) => (value === null ? null : Number(value)), figure }
}

function plain(value: number, decimals?: number): string {
  if (decimals !== undefined) return showNumber(value, decimals)
  return atMost(value, 2)
}

/** @param decimals shown; absent: as many as the number has, up to two */
export function number(decimals?: number): Kind {
  return figures({ read: readNumber, type: text, show: (value) => plain(Number(value), decimals) })
}

/** A number kept in one unit and typed in another: kept × `scale` is what is typed. */
export function scaled(scale: number): Kind {
  const shown = (value: CellValue) => Number((Number(value) * scale).toPrecision(12))
  return figures({
    scale,
    read: (typed) => {
      const reading = readNumber(typed)
      return reading.ok ? { ok: true, value: reading.value / scale } : reading
    },
    type: (value) => String(shown(value)),
    show: (value) => plain(shown(value)),
  })
}

/** A share, typed and shown in percent. */
export const percent: Kind = figures({
  asks: 'percent',
  scale: 100,
  read: (typed) => {
    const reading = readPercent(typed)
    // 87 / 100 is not 0.87 to the last bit for every number; what is kept is what was typed.
    return reading.ok ? { ok: true, value: Number(reading.value.toPrecision(12)) } : reading
  },
  type: (value) => String(Number((Number(value) * 100).toFixed(6))),
  show: (value) => plain(Number(value) * 100),
})

/** Whole cents, typed and shown in dollars. */
export const dollars: Kind = figures({
  scale: 0.01,
  read: readDollars,
  type: (value) => (Number(value) / 100).toFixed(2),
  show: (value) => showCents(Number(value)),
})

export const day: Kind = {
  ...words,
  isFigure: true,
  asks: 'day',
  read: readDay,
  show: (value) => (value === null ? '' : showDay(text(value))),
}

/** A day of any year, as 04-28. */
export const monthDay: Kind = {
  ...words,
  isFigure: true,
  read: readMonthDay,
  show: (value) => (value === null ? '' : showMonthDay(text(value))),
}

/** Parts with semicolons between them. `sort` is of the first part. */
export function list<Part>(
  readPart: (text: string) => Reading<Part>,
  typePart: (part: Part) => string,
  showPart: (part: Part) => string,
  sortPart: (part: Part) => string | number,
): Kind {
  const parts = (value: CellValue) => (value ?? []) as readonly Part[]
  return {
    isFigure: false,
    asks: null,
    read: readList(readPart),
    type: (value) => parts(value).map(typePart).join('; '),
    show: (value) => parts(value).map(showPart).join('; '),
    sort(value) {
      const [first] = parts(value)
      return first === undefined ? null : sortPart(first)
    },
  }
}

/** Names, as of windows, with semicolons between them. */
export const names: Kind = list<string>(
  readWords,
  (name) => name,
  (name) => name,
  (name) => name.toLowerCase(),
)
