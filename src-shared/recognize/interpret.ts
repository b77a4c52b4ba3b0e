/**
 * A table whose columns are known → records of its noun, with what each cell was read as, every word that was met, and what must
 * be asked. Never guesses silently: what could be two things waits for an answer, and what was read otherwise than it stands is
 * said. Pure. Long because a row is read with all that its table settled.
 */
import type { CellValue } from '../sheet/sheet.ts'
import { dittoWords, emptyWords } from './choices.ts'
import { countPounds } from './carried-row.ts'
import { senseOf } from './column-sense.ts'
import {
  contextOf,
  type CellNote,
  type InterpretGiven,
  type KnownColumn,
  type ReadRow,
  type TableReading,
} from './context.ts'
import { seasonsOfHeadings, type Grown } from './crops.ts'
import { fillNeeded } from './fill-needed.ts'
import { askGoingOn } from './going-on.ts'
import type { FoundTable } from './find-tables.ts'
import { isBlank, textOf, type Cell } from './grid.ts'
import type { HeadBook, HeadColumn } from './head-book.ts'
import type { ColumnGuess, TableMatch } from './match-table.ts'
import { headingKey, wordKey } from './question.ts'
import { packIn } from './price-text.ts'
import type { QuoteParts } from './quote-rows.ts'
import { readCell, type AskedWord, type CellRead, type RowsRead, type Sense } from './read-cell.ts'
import { finishQuote, nameTwins, takeQuoteCell, type DealerPrice, type ListSense } from './read-quote.ts'
import { returnTerms, seedOf, settleDealer, settlePrices, treatmentsOf } from './settle-quotes.ts'
import { settleScale } from './settle-scale.ts'
import { speciesIn } from './threats.ts'
import { plainName } from './tokens.ts'

/** Readings kept for each column. */
const mostRemembered = 4000

/** Paths of a column, as they are written in the noun. */
function pathsOf(column: HeadColumn, paths: ReadonlyMap<string, string>): readonly string[] {
  return column.paths ?? [paths.get(column.id) ?? column.id]
}

export function interpret(book: HeadBook, found: FoundTable, match: TableMatch, given: InterpretGiven): TableReading {
  const context = contextOf(book, found, match, given)
  const { columns, questions, words, columnSays, pathOfId, own, ask } = context
  const { season, answers } = given
  const { noun } = book
  const scales = { rating: settleScale(context, 'rating'), level: settleScale(context, 'level') }
  const senses = new Map(columns.map((guess) => [guess.at, senseOf(context, scales, guess)]))
  const list: ListSense | null =
    noun === 'quote'
      ? {
          price: settlePrices(context),
          dealer: settleDealer(context),
          treatments: treatmentsOf(context),
          discounts: discountsOf(found),
          terms: returnTerms(context),
          senses,
        }
      : null
  askColumns()
  const goingOn = askGoingOn(context)
  const cropSeasons = seasonsOfHeadings(
    columns.filter(({ column }) => column.id === 'crop').map(({ heading }) => heading),
    season,
  )
  const sections = found.aside.filter(({ why }) => why === 'section')
  const before = new Map<number, Cell>()
  const memory = new Map<number, Map<Cell, CellRead>>()
  const rows = found.rows.map(({ row, cells }) => readRow(row, cells))
  if (list) nameTwins(rows)
  if (noun !== 'history' && noun !== 'soil') fillNeeded(context, scales, rows)
  return {
    rows: noun === 'history' ? byField(rows) : rows,
    questions: [...questions.values()],
    words: [...words.values()],
    columnSays,
  }

  /** Columns that are not sure. */
  function askColumns() {
    for (const guess of columns) {
      if (!guess.isAsked || guess.isChosen) continue
      ask(
        {
          key: headingKey(noun, guess.heading),
          scope: 'word',
          header: guess.heading,
          says:
            guess.column.id === 'dealerPrice'
              ? `Is “${guess.heading}” a dealer, with prices below?`
              : `Is “${guess.heading}” the ${guess.column.label.toLowerCase()}?`,
          answers: [
            { value: guess.column.id, says: `yes: ${guess.column.label}` },
            { value: '', says: 'no, leave it out' },
          ],
          suggestion: guess.column.id,
        },
        own(guess.at).length,
      )
    }
  }

  function noteWord(word: AskedWord, header: string, value: string | null) {
    const key = wordKey(word.kind, word.word)
    const known = words.get(key)
    if (known) known.cells += 1
    else words.set(key, { key, word: word.word, header, cells: 1, value, choices: word.choices })
  }

  function askWord(word: AskedWord, header: string) {
    noteWord(word, header, null)
    ask({
      key: wordKey(word.kind, word.word),
      scope: 'word',
      header,
      says: `What does “${word.word}” under ${header || 'the column'} mean?`,
      answers: [
        ...word.choices.map((choice) => ({ value: choice, says: choice })),
        ...(word.choices.length === 0 && word.suggestion !== null
          ? [{ value: word.suggestion, says: word.suggestion }]
          : []),
        ...(['field', 'variety'].includes(word.kind)
          ? [{ value: word.word, says: `another one: “${word.word}”` }]
          : [{ value: '', says: 'leave these cells empty' }]),
      ],
      suggestion: word.suggestion,
    })
  }

  function waits(key: string, { heading }: ColumnGuess) {
    if (key === 'days')
      ask({
        key,
        scope: 'table',
        header: heading,
        says: `Dates under ${heading} could be month or day first. Which is it?`,
        answers: [
          { value: 'mdy', says: 'month first, as 3/15' },
          { value: 'dmy', says: 'day first, as 15/3' },
        ],
        suggestion: 'mdy',
      })
    else if (key === 'history order')
      ask({
        key,
        scope: 'table',
        header: heading,
        says: `Which crop stands first under ${heading}?`,
        answers: [
          { value: 'newest', says: 'the newest, of last season' },
          { value: 'oldest', says: 'the oldest' },
        ],
        suggestion: 'newest',
      })
    else if (key.startsWith('shares/'))
      ask({
        key,
        scope: 'table',
        header: heading,
        says: `Are the figures under ${heading} percent, or shares of 1?`,
        answers: [
          { value: 'percent', says: 'percent already' },
          { value: 'share', says: 'shares: 0.8 is 80 %' },
        ],
        suggestion: 'share',
      })
  }

  /** The cell, or the one above it where it says “the same”, or where a list names its dealer only once. */
  function cellAt({ at, column }: KnownColumn, cells: readonly Cell[], says: CellNote[]): Cell {
    const cell = cells[at] ?? ''
    const text = textOf(cell)
    const isDitto = dittoWords.has(text.toLowerCase()) && !(column.reads === 'crop' && text.toLowerCase() === 'do')
    const goesOn =
      text === '' && (column.reads === 'dealer' || (column.id === 'variety' && noun === 'quote') || goingOn.has(at))
    if ((isDitto || goesOn) && before.has(at) && column.reads !== 'note') {
      const same = before.get(at) as Cell
      says.push({ at, what: `as above: ${textOf(same)}` })
      return same
    }
    if (emptyWords.has(text.toLowerCase()) && !(column.reads === 'level' && text === 'nil')) return ''
    if (text !== '') before.set(at, cell)
    return cell
  }

  function readRow(row: number, cells: Cell[]): ReadRow {
    const out: ReadRow = { row, cells, records: [{}], problems: [], says: [], places: {} }
    const record = out.records[0] as Record<string, CellValue>
    const history: Grown[] = []
    const parts: QuoteParts = { prices: [] }
    const dealerPrices: DealerPrice[] = []
    for (const guess of columns) {
      const { at, column, heading } = guess
      for (const path of pathsOf(column, pathOfId)) out.places[path] ??= at
      const cell = cellAt(guess, cells, out.says)
      if (isBlank(cell)) continue
      if (guess.isAsked && !guess.isChosen) continue
      if (list && takeQuoteCell(context, list, guess, cell, parts, dealerPrices, out)) continue
      const sense = senses.get(at) as Sense
      if (column.reads === 'count' && sense.factor === 0) continue
      const named = list && column.id === 'variety' ? seedOf(textOf(cell)) : null
      if (named) parts.itemPack = packIn(textOf(cell)) ?? undefined
      if (named?.treatment !== undefined)
        parts.treatment ??= (list?.treatments.size ?? 0) > 1 ? named.treatment : undefined
      take(
        guess,
        remembered(at, named?.name ?? cell, sense),
        (value, says) => {
          if (named && named.name !== textOf(cell) && says === undefined)
            out.says.push({ at, what: `${textOf(cell)} → ${named.name}` })
          if (says !== undefined) out.says.push({ at, what: says })
          if (column.reads === 'rows') {
            const { rowSpacingIn, rowPattern } = value as RowsRead
            if (rowSpacingIn !== undefined) record['rowSpacingIn'] ??= rowSpacingIn
            if (rowPattern !== undefined) record['rowPattern'] ??= rowPattern
            out.places['rowSpacingIn'] ??= at
            out.places['rowPattern'] ??= at
          } else if (column.id === 'crop') {
            const year = cropSeasons.get(heading) ?? null
            if (year === null)
              out.problems.push({ at, what: `the heading “${heading}” does not say of which year the crop is` })
            else if (year < season) history.push({ season: year, crop: String(value) })
          } else if (column.id === 'history')
            history.push(...(value as Grown[]).filter((grown) => grown.season < season))
          else if (column.id === 'nematodes') {
            record['nematodesPer100cc'] = value as CellValue
            const species = speciesIn(heading) ?? speciesIn(found.words.join(' '))
            if (species !== undefined && record['nematodeSpecies'] === undefined) record['nematodeSpecies'] = species
          } else if (column.standsFor !== undefined) {
            if (columns.some(({ column: { id } }) => id === column.standsFor)) return
            record[column.standsFor] = value as CellValue
            out.places[column.standsFor] = at
          } else if (!['ph', 'lab'].includes(column.id))
            for (const path of pathsOf(column, pathOfId))
              if (column.paths === undefined || record[path] === undefined) record[path] = value as CellValue
        },
        out,
      )
    }
    out.places['nematodesPer100cc'] ??= out.places['nematodes'] ?? -1
    out.places['history'] ??=
      columns.find(({ column }) => column.reads === 'crop' || column.reads === 'history')?.at ?? -1
    if (history.length > 0)
      record['history'] = history.toSorted((one, other) => other.season - one.season) as unknown as CellValue
    const section = sections.filter((each) => each.row < row).at(-1)
    const owner = noun === 'field' && section ? landlordNamed(section.text) : null
    if (owner !== null && !columns.some(({ column }) => column.id === 'landlord')) {
      record['landlord'] = owner
      out.says.push({ at: -1, what: `under “${section?.text}”: its landlord` })
    } else if (noun === 'field' && section && !columns.some(({ column }) => column.id === 'place')) {
      record['place'] = placeNamed(section.text)
      out.says.push({ at: -1, what: `under “${section.text}”: its place` })
    }
    if (noun === 'carried') countPounds(context, out)
    if (list) finishQuote(context, list, out, parts, dealerPrices, section?.text)
    return out
  }

  /** Most cells of a long file say what a cell above says. */
  function remembered(at: number, cell: Cell, sense: Sense): CellRead {
    let known = memory.get(at)
    if (!known) memory.set(at, (known = new Map()))
    const kept = known.get(cell)
    if (kept) return kept
    const read = readCell(cell, sense)
    if (known.size < mostRemembered) known.set(cell, read)
    return read
  }

  function take(
    guess: KnownColumn,
    read: CellRead,
    put: (value: unknown, says: string | undefined) => void,
    out: ReadRow,
  ) {
    const { at, heading } = guess
    if (read.is === 'value') {
      if (read.word)
        noteWord(read.word, heading, String(answers[wordKey(read.word.kind, read.word.word)] ?? read.word.suggestion))
      put(read.value, read.says)
    } else if (read.is === 'bad') out.problems.push({ at, what: read.what })
    else if (read.is === 'asked') askWord(read.word, heading)
    else if (read.is === 'open') waits(read.key, guess)
  }
}

/** “Farm: River” → River. */
const placeNamed = (text: string) =>
  text
    .replace(/^(?:farm|place|location|area|tract)\s*[:#–-]\s*/i, '')
    .replace(/[:\s]+$/, '')
    .slice(0, 80)

/** “Owner: Estate of R. Pell” → Estate of R. Pell; null where it names no owner. */
const landlordNamed = (text: string) =>
  /^(?:land ?lord|land ?owner|owner|lessor|rented from|leased from|owned by)\s*[:#–-]?\s*(\p{L}.*?)[:\s]*$/iu
    .exec(text)?.[1]
    ?.slice(0, 80) ?? null

/** What is said of discounts above or below a price list. */
const discountsOf = ({ aside }: FoundTable) =>
  aside
    .filter(({ why, text }) => (why === 'note' || why === 'title') && /cash|discount|prepay|deposit|return/i.test(text))
    .map(({ text }) => text)

/** Rows of field, year and crop → one row a field with its history. */
function byField(rows: readonly ReadRow[]): ReadRow[] {
  const out = new Map<string, ReadRow>()
  for (const row of rows) {
    const [record = {}] = row.records
    const key = plainName(String(record['name'] ?? '')) || `row ${row.row}`
    const first = out.get(key)
    const grown =
      typeof record['year'] === 'number' && typeof record['yearCrop'] === 'string'
        ? [{ season: record['year'], crop: record['yearCrop'] }]
        : []
    if (!first) {
      out.set(key, {
        ...row,
        records: [
          { ...(record['name'] === undefined ? {} : { name: record['name'] }), history: grown as unknown as CellValue },
        ],
        problems: [...row.problems],
        says: [...row.says],
      })
      continue
    }
    const own = first.records[0] as Record<string, CellValue>
    own['history'] = [...(own['history'] as unknown as Grown[]), ...grown] as unknown as CellValue
    first.problems.push(...row.problems)
  }
  return [...out.values()]
}
