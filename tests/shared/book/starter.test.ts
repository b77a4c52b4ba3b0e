/**
 * Walks the house book. No row without what it affects and where it comes from; published and derived rows cite what was
 * read (the list here is of what was read, from the project's notes of sources); nothing is unused, nothing is missing.
 */
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { explain } from '../../../src-shared/agronomy/explain.ts'
import { germinationMark } from '../../../src-shared/agronomy/germination.ts'
import { loadTerms } from '../../../src-shared/agronomy/load-worth.ts'
import { leastStand } from '../../../src-shared/agronomy/lot-rate.ts'
import { placingCosts } from '../../../src-shared/lot-placing.ts'
import { houseReserve } from '../../../src-shared/agronomy/reserve.ts'
import { replantChoices } from '../../../src-shared/agronomy/replant.ts'
import { trialIndexes } from '../../../src-shared/agronomy/trial.ts'
import { tagChecks } from '../../../src-shared/agronomy/tag-checks.ts'
import { readThreat } from '../../../src-shared/agronomy/threat-table.ts'
import { readVine } from '../../../src-shared/agronomy/vine.ts'
import { Book, rangeOf } from '../../../src-shared/assumption.ts'
import { isMonthDayRow, limitsOf, wordsOf } from '../../../src-shared/book/change.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { isRowOf, topicOf, topicOrder } from '../../../src-shared/book/topic.ts'
import { pressureLevels } from '../../../src-shared/field.ts'
import { seasonIn } from '../../../src-main/engine/plan/year-season.ts'
import { fullTag } from '../agronomy/a-tag.ts'
import { lessonWorth } from '../../../src-shared/review/lesson.ts'
import { demoFarm } from '../demo-farm.ts'
import { ReadingBook } from './reading-book.ts'

/** Everything that the rows may cite: read in a stored copy. What was only remembered is not among it. */
const wereRead = [
  'UGA Effingham County blog, May 2021',
  'UGA Ben Hill County blog, Mar 2020',
  'Monfort, peanutgrower.com, Apr 2020',
  'Sarver et al., Peanut Science art. 1239',
  'Sarver et al., Peanut Science art. 1245',
  'Hollis, quoting Tubbs, Southeast Farm Press, 9 Mar 2012',
  'Peanut Science art. 1268',
  'Anco 2018, APS abstract',
  'Duffeck et al. 2025, PDIS-09-24-1815-RE',
  'Bowen, Hagan & Weeks 1992, Plant Disease 76:982–985',
  'Damicone 2018, APS abstract',
  'Wheeler & Starr 1987, Peanut Science 14:94–96',
  'Lamb, Southeast Farm Press',
  'Monfort et al., Peanut Science art. 1490',
  'Studstill et al., Peanut Science art. 1472',
  'Faircloth, Southeast Farm Press',
  'Clemson extension',
  'NC Peanut Production Guide 2002, ch. 3',
  'CS 462 heat-unit notes of NC State',
  'soilcropandmore.info peanut guide',
  'UF/IFAS extension blog, 19 Feb 2025',
  'okcrop.okstate.edu/seed-certification-standards/peanut.html',
  '7 CFR 201.22',
  'UF/IFAS Panhandle Agriculture, Oct 2018',
  'Mulvaney & Tubbs, IFAS, May 2020',
  'Tubbs & Monfort, Peanut Science art. 1544',
  'Peanut Science art. 1078',
  'Peanut Science art. 1245',
  'Peanut Science art. 1298',
  'Peanut Science art. 1544',
  'NC State Peanut Notes, May 2012',
  'NC State Peanut Notes, May 2015',
  'Southeast Farm Press 2013, quoting UGA',
  'Oklahoma State',
  'Anco et al. 2020',
  'T18 and the summary in VALUES',
  'Lamb, T4a',
  'Texas 2008',
  'Southern Ag Today, 8 Jan 2024',
  'USDA NASS days suitable, T22',
  'USDA NASS, T23',
  'Jordan, NC State, 2014',
  'NC State PNNC-2013-078',
  'NC State Peanut Notes, Sept 2023',
  'Beasley, Southeast Farm Press',
  'against November 5 (T19)',
  'Planted up to May 30 in the trial (T14)',
  'Whitaker, Dickens & Giesbrecht 1991, Peanut Science 18(2)',
]

describe('every row', () => {
  it.each(starterBook.map((row) => [row.key, row] as const))('%s', (_key, row) => {
    expect(row.affects ?? '').not.toBe('')
    expect(row.source).not.toBe('')
    expect(row.unit).not.toBe('')
    expect(row.sourceKind).not.toBe('the farm')
    const cited = wereRead.filter((citation) => row.source.includes(citation))
    if (row.sourceKind === 'published' || row.sourceKind === 'derived') expect(cited.length).toBeGreaterThan(0)
    if (row.sourceKind === 'common practice') expect(row.source).toContain('Common practice, no source')
    if (row.sourceKind === 'from memory') expect(row.source).toContain('from memory')
    // Whose middle it is, and that a size is ours, is said.
    if (row.sourceKind === 'published') expect(row.source).not.toMatch(/middle is ours|our estimate/)
    if (typeof row.value === 'string') {
      const words = wordsOf(row.key)
      if (words !== null) expect(words).toContain(row.value)
      else expect(row.value).toMatch(isMonthDayRow(row.key) ? /^\d{2}-\d{2}$/ : /^[a-z]/)
      return
    }
    const { low, usual, high } = rangeOf(row)
    expect(low).toBe(row.low ?? usual)
    expect(high).toBe(row.high ?? usual)
    const { least, most } = limitsOf(row)
    for (const number of [low, usual, high]) {
      expect(number).toBeGreaterThanOrEqual(least)
      expect(number).toBeLessThanOrEqual(most)
    }
  })

  it('stands once, one row a line', () => {
    expect(new Set(starterBook.map((row) => row.key)).size).toBe(starterBook.length)
    const text = readFileSync(new URL('../../../src-shared/book/south-east.json', import.meta.url), 'utf8')
    const lines = text.trimEnd().split('\n')
    expect(lines).toHaveLength(starterBook.length + 2)
    for (const line of lines.slice(1, -1)) expect(line).toMatch(/^ {2}\{"key":.*\},?$/)
  })

  it('has a heading', () => {
    for (const { key } of starterBook) {
      const topic = topicOf(key)
      expect(topic.startsWith('Threat: ') || topicOrder.includes(topic), key).toBe(true)
    }
  })
})

describe('rows and the agronomy', () => {
  const farm = demoFarm()

  /** Reads everything that anything in the agronomy reads, whatever a season happens to use. */
  function readAll(book: ReadingBook): void {
    const season = { ...farm, rules: [...farm.rules, { rule: 'reserve-by-chance' as const, isOn: true }] }
    const context = contextOf(season, book)
    for (const threat of season.threats) {
      readThreat(book, threat)
    }
    readVine(book)
    houseReserve(book, 1)
    germinationMark(book, 0.5)
    germinationMark(book, 0.9)
    leastStand(book, 0)
    placingCosts(book)
    lessonWorth(book)
    const grown = { place: 'P', year: 2026, yieldLb: 4000 }
    trialIndexes(
      book,
      ['A', 'B'].map((variety) => ({ ...grown, variety })),
      'A',
    )
    loadTerms(book, season.season)
    const [field, variety] = [farm.fields[0]!, farm.varieties[0]!]
    replantChoices(context, 2, {
      growing: { field, variety, window: 'usual', planted: `${farm.season}-05-05` },
      practices: [],
      countedOn: `${farm.season}-05-25`,
      seedsPerFoot: 6,
      germination: 0.85,
      rowSpacingIn: 36,
      seedsPerPound: 650,
      seedCentsPerPound: 80,
    })
    for (const year of ['wet fall', 'early frost'] as const) seasonIn(year, season, context)
    for (const isHermetic of [false, true]) tagChecks(book, { ...fullTag(), tag: { ...fullTag().tag, isHermetic } })
    for (const field of season.fields) {
      for (const rowPattern of ['single', 'twin'] as const) {
        const fields = [{ ...field, rowPattern, drop: undefined, windows: [] }]
        for (const { name: variety } of season.varieties) {
          explain(
            { ...context, season: { ...season, fields } },
            { field: field.name, variety, window: 'Usual', programme: [] },
          )
        }
      }
    }
  }

  const book = new ReadingBook(starterBook)
  readAll(book)

  it('every key that is read by name in the source is there', () => {
    const folder = new URL('../../../src-shared/agronomy/', import.meta.url)
    const named = [
      ...readdirSync(folder).map((file) => new URL(file, folder)),
      new URL('../../../src-main/engine/plan/price.ts', import.meta.url),
    ]
      .flatMap((file) => [...readFileSync(file, 'utf8').matchAll(/book\.(?:number|word|row)\('([^']+)'\)/g)])
      .map((match) => match[1] as string)
    expect(named.length).toBeGreaterThan(10)
    for (const key of named) expect(book.rows.has(key), key).toBe(true)
  })

  it('every key that is asked for is there', () => {
    expect(book.read.size).toBeGreaterThan(100)
    expect([...book.missing]).toEqual([])
  })

  it('no row is unused', () => {
    const unused = [...book.rows.keys()].filter((key) => !book.read.has(key))
    expect(unused).toEqual([])
  })

  it('a threat’s rows are of the kinds that any threat can have', () => {
    for (const key of book.rows.keys()) {
      if (!key.startsWith('threat/')) continue
      expect(farm.threats.filter((threat) => isRowOf(threat, key)).length, key).toBe(1)
    }
  })

  it('a row that is a threat’s own goes before the one for all', () => {
    const own = {
      key: 'threat/spotted wilt/share/5',
      value: 0.9,
      unit: '',
      source: '',
      sourceKind: 'the farm' as const,
    }
    const wilt = farm.threats.find((threat) => threat.name === 'spotted wilt')
    expect(wilt && readThreat(new Book(starterBook, [own]), wilt).share[5]).toBe(0.9)
    expect(wilt && readThreat(new Book(starterBook), wilt).share[5]).toBe(0.55)
  })
})

describe('how a loss rises', () => {
  it('with pressure, rating and short rotation: the rows of every threat are in order', () => {
    const book = new Book(starterBook)
    for (const threat of demoFarm().threats) {
      const table = readThreat(book, threat)
      const rising = (numbers: readonly number[]) =>
        numbers.every((number, i) => i === 0 || number >= (numbers[i - 1] as number))
      expect(rising(pressureLevels.map((level) => table.base[level].usual)), threat.name).toBe(true)
      expect(rising(table.share), threat.name).toBe(true)
      expect(rising(table.yearsOut.toReversed()), threat.name).toBe(true)
    }
  })
})
