/**
 * Variety trials → proposed yield indexes. Each trial compares a variety with the usual one that stood in it, or with the
 * trial's mean. Few or loose trials say little: the mean of the ratios is drawn towards 1 by their number and their LSD.
 */
import type { Book } from '../assumption.ts'
import type { Water } from '../field.ts'
import { figure, rowFigure, Calculation } from './calculation.ts'
import type { WorkingLine } from './working.ts'

/** One variety in one trial. */
export interface TrialRow {
  variety: string
  /** Place and year, or whatever tells one trial from another. */
  place: string
  year: number
  /** [lb/acre] > 0 */
  yieldLb: number
  /** [lb/acre] least significant difference at 5 %, where the trial gives one. */
  lsdLb?: number | undefined
  /** Absent: both. */
  water?: Water | undefined
}

export interface TrialIndex {
  variety: string
  water: Water | null
  trials: number
  /** [×] mean of the ratios, before shrinking. */
  ratio: number
  /** [share] of the way from 1 to the ratio. */
  weight: number
  /** [×] rounded to a hundredth. */
  index: number
  lines: WorkingLine[]
}

/**
 * @param usual name of the variety that indexes are against; a trial without it is held against its own mean
 * @returns one entry for each variety and water, by name; none for the usual variety itself
 */
export function trialIndexes(book: Book, rows: readonly TrialRow[], usual: string): TrialIndex[] {
  const told = meansOf(rows)
  // A trial of one variety compares nothing.
  const trials = new Map([...Map.groupBy(told, trialOf)].filter(([, own]) => own.length > 1))
  const against = new Map(
    [...trials].map(([trial, own]) => {
      const check = own.filter(({ variety }) => plain(variety) === plain(usual))
      const base = check.length > 0 ? check : own
      return [trial, base.reduce((sum, { yieldLb }) => sum + yieldLb, 0) / base.length]
    }),
  )
  const ofOne = Map.groupBy(
    told.filter((row) => plain(row.variety) !== plain(usual) && trials.has(trialOf(row))),
    ({ variety, water }) => JSON.stringify([plain(variety), water ?? null]),
  )
  return [...ofOne.values()]
    .map((own) => indexOf(book, own, (row) => against.get(trialOf(row)) as number))
    .sort((a, b) => (a.variety < b.variety ? -1 : 1))
}

const plain = (text: string) => text.trim().toLowerCase().replace(/\s+/g, ' ')
const trialOf = ({ place, year, water }: TrialRow) => JSON.stringify([plain(place), year, water ?? null])

/** Plots of one variety in one trial are one row: their mean. */
function meansOf(rows: readonly TrialRow[]): TrialRow[] {
  const plots = Map.groupBy(rows, (row) => JSON.stringify([plain(row.variety), trialOf(row)]))
  return [...plots.values()].map((own) => ({
    ...(own[0] as TrialRow),
    yieldLb: mean(own.map(({ yieldLb }) => yieldLb)),
  }))
}
const mean = (values: readonly number[]) => values.reduce((sum, each) => sum + each, 0) / values.length

/** Two standard errors of a difference make its LSD, to a hair of Student's t. */
const errorsInLsd = 2

function indexOf(book: Book, rows: readonly TrialRow[], base: (row: TrialRow) => number): TrialIndex {
  const calculation = new Calculation(true)
  const ratios = rows.map((row) => row.yieldLb / base(row))
  const untold = book.number('trial/error without LSD')
  const errors = rows.map((row) => (row.lsdLb === undefined ? untold : row.lsdLb / errorsInLsd / base(row)))
  const [spread, places] = [book.number('trial/spread of varieties'), book.number('trial/place and year')]
  const error = mean(errors.map((each) => each ** 2))
  const count = rows.length
  const weight = calculation.line(
    'signal share',
    [
      rowFigure(book, 'trial/spread of varieties', 'how far varieties lie apart', spread),
      rowFigure(book, 'trial/place and year', 'places and years', places),
      figure(Math.sqrt(error), 'error of a trial, from its LSD', 'share'),
      figure(count, 'trials', ''),
    ],
    () => ({ id: 'weight', label: 'What the trials can say', unit: 'share of the way' }),
  )
  const ratio = mean(ratios)
  const index = calculation.line(
    'drawn to 1',
    [figure(ratio, 'mean of the ratios', '×'), figure(weight, 'what the trials can say', 'share')],
    () => ({ id: 'index', label: 'Proposed yield index', unit: '×' }),
  )
  const [first] = rows as [TrialRow]
  return {
    variety: first.variety.trim(),
    water: first.water ?? null,
    trials: count,
    ratio,
    weight,
    // As far as a yield index goes.
    index: Math.min(2, Math.max(0.3, Math.round(index * 100) / 100)),
    lines: calculation.lines,
  }
}
