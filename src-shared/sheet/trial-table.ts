/** A table of variety trials as pasted: its headings in the trade's words, its rows as trials. What cannot be read is named. */
import type { TrialRow } from '../agronomy/trial.ts'
import type { Water } from '../field.ts'
import type { Problem } from '../problem.ts'
import { readNumber } from '../read-text.ts'

const heads = {
  variety: /^(variety|cultivar|entry|line|name)$/,
  place: /^(place|location|site|county|station|trial)$/,
  year: /^(year|season|crop year)$/,
  yieldLb: /^(yield|lb\/?ac(re)?|lbs?|pounds|yield lb\/?ac(re)?|pod yield)$/,
  lsdLb: /^(lsd|lsd 5 ?%|lsd \(?0?\.05\)?|lsd lb\/?ac(re)?)$/,
  water: /^(water|irrigation|irrigated|irr ?\/ ?dry)$/,
} as const
type Head = keyof typeof heads

/** Plain words of a heading: case, units in parentheses and blanks aside. */
const plain = (text: string) =>
  text
    .toLowerCase()
    .replace(/[(),.]+/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()

export interface TrialTable {
  rows: TrialRow[]
  /** One for each row or heading that could not be read; the other rows are there. */
  problems: Problem[]
}

/** @param table rows of cells, headings first */
export function readTrialTable(table: readonly (readonly string[])[]): TrialTable {
  const [headings = [], ...body] = table
  const at = new Map<Head, number>()
  headings.forEach((text, column) => {
    const found = (Object.keys(heads) as Head[]).find((head) => heads[head].test(plain(text)) && !at.has(head))
    if (found) at.set(found, column)
  })
  const missing = (['variety', 'yieldLb'] as const).filter((head) => !at.has(head))
  if (missing.length > 0) {
    const names = { variety: 'Variety', yieldLb: 'Yield, lb/ac' }
    return {
      rows: [],
      problems: [
        {
          code: 'bad-value',
          what: `The first row has no column ${missing.map((head) => `“${names[head]}”`).join(' and ')}.`,
          where: { row: 1 },
          remedy: 'Paste the table with its headings: Variety, Place, Year, Yield, and LSD and Water if you have them.',
        },
      ],
    }
  }
  const rows: TrialRow[] = []
  const problems: Problem[] = []
  body.forEach((cells, index) => {
    if (cells.every((cell) => cell.trim() === '')) return
    const cell = (head: Head) => (cells[at.get(head) ?? -1] ?? '').trim()
    const refuse = (what: string) =>
      problems.push({
        code: 'bad-value',
        what: `Row ${index + 2}: ${what}`,
        where: { row: index + 2 },
        remedy: 'Correct the row, or leave it out.',
      })
    const yieldLb = readNumber(cell('yieldLb'))
    const year = cell('year') === '' ? { ok: true as const, value: 0 } : readNumber(cell('year'))
    const lsd = cell('lsdLb') === '' ? null : readNumber(cell('lsdLb'))
    const water = waterOf(cell('water'))
    if (cell('variety') === '') refuse('it names no variety.')
    else if (!yieldLb.ok || yieldLb.value < 100 || yieldLb.value > 15_000)
      refuse(`“${cell('yieldLb')}” is not a yield from 100 to 15,000 lb/ac.`)
    else if (!year.ok) refuse(`“${cell('year')}” is not a year.`)
    else if (lsd !== null && (!lsd.ok || lsd.value < 0)) refuse(`“${cell('lsdLb')}” is not an LSD in lb/ac.`)
    else if (water === null) refuse(`“${cell('water')}” is neither irrigated nor dryland.`)
    else {
      rows.push({
        variety: cell('variety'),
        place: cell('place'),
        year: year.value,
        yieldLb: yieldLb.value,
        ...(lsd?.ok ? { lsdLb: lsd.value } : {}),
        ...(water === undefined ? {} : { water }),
      })
    }
  })
  return { rows, problems }
}

/** Undefined where nothing is said; null for a word that is neither. */
function waterOf(text: string): Water | undefined | null {
  const word = plain(text)
  if (word === '') return undefined
  if (/^(irr|irrigated|yes|pivot|wet)$/.test(word)) return 'irrigated'
  return /^(dry|dryland|non ?-?irrigated|rainfed|no)$/.test(word) ? 'dryland' : null
}
