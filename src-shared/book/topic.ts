/** The topics of the house book, as a reader looks for them, and the rows that a threat of one's own can have. */
import { pressureLevels, rowPatterns, tillages, waters } from '../field.ts'
import { threatKey } from '../agronomy/threat-table.ts'
import type { Threat } from '../threat.ts'
import { windowKinds } from '../window.ts'

/** First part of a row's key → heading. Threats have a heading each. */
const headings: Record<string, string> = {
  drop: 'Seed and stand',
  stand: 'Seed and stand',
  emergence: 'Seed and stand',
  germination: 'Seed and stand',
  reserve: 'Reserve by chance',
  share: 'Ratings',
  rating: 'Ratings',
  rotation: 'Rotation',
  trial: 'Variety trials',
  usual: 'Yield goals',
  date: 'Planting date',
  planting: 'Calendar',
  ripening: 'Calendar',
  digging: 'Calendar',
  calendar: 'Calendar',
  canopy: 'Leaves and yield',
  vine: 'Vine',
  harvest: 'Harvest',
  price: 'Price',
  cost: 'Price',
  rate: 'Seed and stand',
  lots: 'Lots to fields',
  replant: 'Thin stands',
  tag: 'Tags',
  load: 'Loads',
  lesson: 'Lessons',
}

/** Headings in the order of the book; the threats' own come after `Ratings`. */
export const topicOrder = [
  'Price',
  'Seed and stand',
  'Reserve by chance',
  'Tags',
  'Lots to fields',
  'Thin stands',
  'Yield goals',
  'Variety trials',
  'Planting date',
  'Calendar',
  'Rotation',
  'Leaves and yield',
  'Vine',
  'Harvest',
  'Loads',
  'Lessons',
  'Ratings',
]

/** Heading of a row. A key that no heading is known for, as of a later version, stands under `Other`. */
export function topicOf(key: string): string {
  const [first = '', second = ''] = key.split('/')
  return first === 'threat' ? `Threat: ${second}` : (headings[first] ?? 'Other')
}

/** A row that could be written: what the agronomy reads where it is there, and counts with where it is not. */
export interface PossibleRow {
  key: string
  unit: string
  affects: string
  /** What holds without the row. */
  otherwise: number
}

/** Rows that any threat can have, in the order of the book: for threats that the starter set does not know. */
export function possibleRows(threat: Threat): PossibleRow[] {
  const { name } = threat
  const factor = (topic: string, of: readonly string[]): PossibleRow[] =>
    of.map((each) => ({
      key: threatKey(name, `${topic}/${each}`),
      unit: '×',
      affects: `Loss to ${name}: ${topic} ${each}.`,
      otherwise: 1,
    }))
  return [
    ...pressureLevels.map((level) => ({
      key: threatKey(name, `loss/${level}`),
      unit: 'share of yield, rated 9',
      affects: `Loss to ${name} where the pressure is ${level}.`,
      otherwise: 0,
    })),
    ...factor('window', windowKinds),
    ...factor('rows', rowPatterns),
    ...factor('water', waters),
    ...factor('tillage', tillages),
    ...factor('years out', ['0', '1', '2', '3', '4']),
    ...rowPatterns.map((rows) => ({
      key: threatKey(name, `per missing plant/${rows}`),
      unit: 'share per plant/ft',
      affects: `Loss to ${name} by stand in ${rows} rows.`,
      otherwise: 0,
    })),
  ]
}

/** Further rows that a threat can have, for those who know them: loss by severity, a soil count, shares of its own. */
const further = /^(slope|usual control|severity\/\w+|count from\/\w+|share\/[1-9]|years out\/\d+)$/

/** True where something reads a row of this key for the threat. */
export function isRowOf(threat: Threat, key: string): boolean {
  const start = threatKey(threat.name, '')
  if (!key.startsWith(start)) return false
  return further.test(key.slice(start.length)) || possibleRows(threat).some((row) => row.key === key)
}
