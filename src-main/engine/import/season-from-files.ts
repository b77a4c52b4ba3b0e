/** A season from readable files: tables of fields, varieties, dealers, quotes and measures, boundaries, and the rest as JSON. */
import { fail, ok, type Problem, type Result } from '../../../src-shared/problem.ts'
import { readJson } from '../../../src-shared/read-file.ts'
import { readSeason, seasonVersion, type Season } from '../../../src-shared/season.ts'
import { readFields } from './field-columns.ts'
import { readMeasures } from './measure-columns.ts'
import { readDealers, readQuotes } from './quote-columns.ts'
import { readBoundaries } from './read-boundaries.ts'
import type { RowsRead } from './read-rows.ts'
import { readTable, type Table } from './read-table.ts'
import { readVarieties } from './variety-columns.ts'

/** Text of each file, by its name. */
export interface SeasonFiles {
  'fields.csv': string
  'varieties.csv': string
  'dealers.csv': string
  'quotes.csv': string
  'measures.csv': string
  'boundaries.geojson': string
  /** Farm, season, windows, machines, threats, carried seed, rules, assumptions. */
  'house.json': string
}

/** All problems of all files, or the season. */
export function seasonFromFiles(files: SeasonFiles): Result<Season> {
  const problems: Problem[] = []
  const take = <Noun>(file: keyof SeasonFiles, read: (table: Table) => RowsRead<Noun>): Noun[] => {
    const table = readTable(files[file], file)
    if (!table.ok) {
      problems.push(...table.problems)
      return []
    }
    const rows = read(table.value)
    problems.push(...rows.problems)
    return rows.records.map(({ value }) => value)
  }
  const fields = take('fields.csv', readFields)
  const varieties = take('varieties.csv', readVarieties)
  const dealers = take('dealers.csv', readDealers)
  const quotes = take('quotes.csv', readQuotes)
  const measures = take('measures.csv', readMeasures)
  const boundaries = readBoundaries(files['boundaries.geojson'], 'boundaries.geojson')
  if (!boundaries.ok) problems.push(...boundaries.problems)
  const house = readJson(files['house.json'], 'house.json')
  if (!house.ok) problems.push(...house.problems)
  if (!boundaries.ok || !house.ok || problems.length > 0) return fail(...problems)

  for (const name of boundaries.value.keys()) {
    if (fields.some((field) => field.name === name)) continue
    problems.push({
      code: 'unknown-name',
      what: `A boundary is given for "${name}", which is no field.`,
      where: { file: 'boundaries.geojson', name },
      remedy: 'Add the field to fields.csv, or correct the name.',
    })
  }
  if (problems.length > 0) return fail(...problems)
  const season = {
    format: 'standwell-season',
    version: seasonVersion,
    ...(house.value as object),
    measures,
    fields: fields.map((field) => ({ ...field, boundary: boundaries.value.get(field.name) })),
    varieties,
    dealers,
    quotes,
  }
  const read = readSeason(season, 'house.json')
  return read.ok ? ok(read.value) : read
}
