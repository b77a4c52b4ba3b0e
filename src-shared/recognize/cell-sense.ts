/**
 * How the cells of one column are to be read, settled by the column as a whole: unit by its heading or by size, percent or
 * share, order of days, scale. What cannot be settled is a question. Pure.
 */
import type { DayOrder } from '../sheet/day-text.ts'
import { clean, readFigure, type Decimals } from './figure.ts'
import { isBlank, textOf, type Cell } from './grid.ts'
import { unitOfHeading, type HeadColumn } from './head-book.ts'
import { provenOrder } from './days.ts'
import { unitOf, type Unit } from './units.ts'

export interface Guess {
  /** Place in the table. */
  at: number
  heading: string
  column: HeadColumn
}

/** Figures of a column that carry no unit of their own. */
function bareFigures(cells: readonly Cell[], decimals: Decimals): number[] {
  const out: number[] = []
  for (const cell of cells) {
    if (isBlank(cell)) continue
    const figure = typeof cell === 'number' ? { value: cell, unit: null } : readFigure(textOf(cell), decimals)
    if (figure && figure.unit === null) out.push(figure.value)
  }
  return out
}

const within = (values: readonly number[], [low, high]: readonly [number, number], factor: number) =>
  values.filter((value) => value * factor >= low * 0.999 && value * factor <= high * 1.001).length

export interface UnitSense {
  /** Of a figure without a unit. */
  factor: number
  /** Where the heading or the size of the figures says another unit than ours. */
  says: string | null
}

const bySize: Partial<Record<string, readonly { unit: string; name: string }[]>> = {
  length: [
    { unit: 'ft', name: 'feet' },
    { unit: 'cm', name: 'centimeters' },
  ],
  'mass/area': [
    { unit: 'ton/ac', name: 'tons an acre' },
    { unit: 'cwt/ac', name: 'hundredweight an acre' },
  ],
  mass: [{ unit: 'ton', name: 'tons' }],
}

/** Unit of the figures of a column: what its heading says, else ours, else the one in which they are of a usual size. */
export function unitSense({ heading, column }: Guess, cells: readonly Cell[], decimals: Decimals): UnitSense {
  const { dimension, usual, oneIs = 1 } = column
  if (dimension === undefined) return { factor: 1, says: null }
  const said = unitOfHeading(heading)
  const plain = bareFigures(cells, decimals)
  // A goal “in tons” is in tons an acre.
  const isBare = (dimension === 'mass/area' || dimension === 'mass/pack') && said?.unit.dimension === 'mass'
  if (said && (said.unit.dimension === dimension || isBare)) {
    const fits =
      usual === undefined || plain.length === 0 || within(plain, usual, said.unit.factor / oneIs) * 2 >= plain.length
    const factor = said.unit.factor / oneIs
    if (fits) return { factor, says: factor === 1 ? null : `in ${said.text}` }
  }
  if (usual === undefined || plain.length === 0 || within(plain, usual, 1) * 2 >= plain.length)
    return { factor: 1, says: null }
  for (const { unit, name } of bySize[dimension] ?? []) {
    const factor = (unitOf(unit) as Unit).factor / oneIs
    if (within(plain, usual, factor) >= 0.8 * plain.length) return { factor, says: `by their size in ${name}` }
  }
  return { factor: 1, says: null }
}

export type Shares = 'share' | 'percent'

/** Whether 0.87 means 87 % or 0.87 %: by what is usual in the column. Null: both could be. */
export function sharesSense({ heading, column }: Guess, cells: readonly Cell[], decimals: Decimals): Shares | null {
  const usual = column.usual ?? [0, 1]
  const values = cells
    .filter((cell) => !isBlank(cell) && !textOf(cell).includes('%'))
    .flatMap((cell) => (typeof cell === 'number' ? [cell] : (readFigure(textOf(cell), decimals)?.value ?? [])))
  const some = values.filter((value) => value > 0)
  if (some.length === 0) return 'percent'
  if (some.some((value) => value > 1)) return 'percent'
  const [asShare, asPercent] = [within(some, usual, 1), within(some, usual, 0.01)]
  if (asShare !== asPercent && Math.max(asShare, asPercent) >= 0.8 * some.length)
    return asShare > asPercent ? 'share' : 'percent'
  // A whole 1 alone, or 1 and 0.5: nothing tells.
  return /%|percent|pct/i.test(heading) && some.every((value) => value === 1) ? 'percent' : null
}

/** 1.06, 106 or +6: how a column against the usual is written. */
export function indexSense(cells: readonly Cell[]): 'delta' | 'whole' {
  const texts = cells.filter((cell) => !isBlank(cell)).map(textOf)
  return texts.some((text) => /^\s*[+−-]\s*\d/.test(text)) &&
    texts.every((text) => Math.abs(readFigure(text.replace(/^\+/, ''))?.value ?? 0) <= 40)
    ? 'delta'
    : 'whole'
}

export function toIndex(value: number, sense: 'delta' | 'whole', isPercent: boolean): number {
  if (sense === 'delta') return clean(1 + value / 100)
  return isPercent || value >= 20 ? clean(value / 100) : value
}

/**
 * Month or day first: what a column proves, else what the other columns of its table do, else what was answered. “both”: a
 * column that contradicts itself; what could be read two ways in it stays open.
 */
export function daySense(
  cells: readonly Cell[],
  others: readonly (readonly Cell[])[],
  answered: DayOrder | undefined,
): DayOrder | 'both' | undefined {
  const own = provenOrder(cells)
  if (own !== null) return own
  const all = provenOrder(others.flat())
  if (all !== null && all !== 'both') return all
  return answered
}

const point = /^[^\d]*(?:\d{1,3}(?:,\d{3})+|\d+)?(?:\.\d+)?[^\d]*$/
const comma = /^[^\d]*(?:\d{1,3}(?:\.\d{3})+|\d+)?(?:,\d+)?[^\d]*$/

/**
 * What stands before the decimals in a table: proven by a figure that can have only one, else the point, which is this country’s.
 * @param isForeign the file parts its columns by semicolons: then a comma may well stand before decimals, and null says: ask
 */
export function decimalsSense(
  cells: Iterable<Cell>,
  isForeign: boolean,
): { decimals: Decimals | null; example: string } {
  let [isPoint, isComma] = [false, false]
  let example = ''
  for (const cell of cells) {
    if (typeof cell !== 'string' || !/\d[.,]\d/.test(cell) || /\d[./-]\d{1,2}[./-]\d/.test(cell)) continue
    const [asPoint, asComma] = [point.test(cell), comma.test(cell)]
    if (asPoint && !asComma) isPoint = true
    else if (asComma && !asPoint) {
      isComma = true
      if (example === '') example = cell
    } else if (asPoint && example === '') example = cell
  }
  if (isPoint && isComma) return { decimals: null, example }
  if (isComma) return { decimals: 'comma', example }
  return { decimals: isPoint || !isForeign || example === '' ? 'point' : null, example }
}

/** What stands before the decimals where only one of the two makes figures of a usual size; null where that tells nothing. */
export function decimalsBySize(
  columns: readonly { cells: readonly Cell[]; usual: readonly [low: number, high: number] | undefined }[],
): Decimals | null {
  const proven = new Set<Decimals>()
  for (const { cells, usual } of columns) {
    if (usual === undefined) continue
    for (const cell of cells) {
      if (typeof cell !== 'string' || !/\d[.,]\d/.test(cell)) continue
      const [asPoint, asComma] = (['point', 'comma'] as const).map((decimals) => readFigure(cell, decimals)?.value)
      if (asPoint === undefined || asComma === undefined || asPoint === asComma) continue
      const [isPoint, isComma] = [asPoint, asComma].map((value) => within([value], usual, 1) === 1)
      if (isPoint !== isComma) proven.add(isPoint ? 'point' : 'comma')
    }
  }
  return proven.size === 1 ? ([...proven][0] ?? null) : null
}
