/** The demo farm's own files, read by the importer; and what it says of files that are wrong. */
import { readFileSync, writeFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { demoSeason } from '../../../src-main/demo/demo-season.ts'
import { readFields } from '../../../src-main/engine/import/field-columns.ts'
import { readMeasures } from '../../../src-main/engine/import/measure-columns.ts'
import { readTable } from '../../../src-main/engine/import/read-table.ts'
import { seasonFromFiles, type SeasonFiles } from '../../../src-main/engine/import/season-from-files.ts'

const folder = new URL('../../../src-main/demo/', import.meta.url)
const read = (file: string) => readFileSync(new URL(file, folder), 'utf8')

function demoFiles(): SeasonFiles {
  return {
    'fields.csv': read('fields.csv'),
    'varieties.csv': read('varieties.csv'),
    'dealers.csv': read('dealers.csv'),
    'quotes.csv': read('quotes.csv'),
    'measures.csv': read('measures.csv'),
    'boundaries.geojson': read('boundaries.geojson'),
    'house.json': read('house.json'),
  }
}

describe('the demo farm', () => {
  const season = demoSeason()

  it('is what a grower would call a farm', () => {
    expect(season.fields).toHaveLength(15)
    expect(season.fields.filter(({ rests }) => rests).map(({ name }) => name)).toEqual(['Pond Field'])
    expect(contextOf(season).usual.variety).toBe('Brindle')
    expect(season.varieties).toHaveLength(8)
    expect(season.dealers).toHaveLength(3)
    const acres = season.fields.reduce((sum, field) => sum + field.acres, 0)
    expect(acres).toBeGreaterThan(1050)
    expect(acres).toBeLessThan(1150)
    expect(season.fields.every((field) => field.boundary !== undefined)).toBe(true)
    expect(season.varieties.filter((variety) => (variety.ratings['root-knot nematode'] ?? 9) <= 3)).toHaveLength(2)
  })

  // STANDWELL_WRITE_DEMO=1 writes it anew, after one of the files was changed on purpose.
  it('ships as the season file too, the same to the letter', () => {
    if (process.env.STANDWELL_WRITE_DEMO) {
      writeFileSync(new URL('demo.season.json', folder), `${JSON.stringify(season, null, 2)}\n`)
    }
    expect(read('demo.season.json')).toBe(`${JSON.stringify(season, null, 2)}\n`)
  })
})

describe('files that are wrong', () => {
  const cases: [string, keyof SeasonFiles, (text: string) => string, object][] = [
    [
      'negative acres',
      'fields.csv',
      (text) => text.replace('Alder Forty,38', 'Alder Forty,-38'),
      { code: 'bad-value', where: { file: 'fields.csv', row: 2, column: 'acres' } },
    ],
    [
      'words for a number',
      'fields.csv',
      (text) => text.replace('Big Sandy,142', 'Big Sandy,about 142'),
      { code: 'bad-value', where: { file: 'fields.csv', row: 3, column: 'acres' } },
    ],
    [
      'a variety without seed count',
      'varieties.csv',
      (text) => text.replace('Cobbler,high oleic,655', 'Cobbler,high oleic,'),
      { code: 'missing', where: { file: 'varieties.csv', row: 3, column: 'seeds per pound' } },
    ],
    [
      'a quote for an unknown variety',
      'quotes.csv',
      (text) => text.replace('Seed,Linden', 'Seed,Lindenn'),
      { code: 'unknown-name', where: { name: 'Lindenn' } },
    ],
    [
      'a column nobody knows',
      'dealers.csv',
      (text) => text.replace('note', 'nickname'),
      { code: 'unknown-name', where: { file: 'dealers.csv', row: 1, column: 'nickname' } },
    ],
    [
      'a column twice',
      'dealers.csv',
      (text) => text.replace('note', 'least lb'),
      { code: 'repeated-name', where: { file: 'dealers.csv', column: 'least lb' } },
    ],
    [
      'a quote mark that is not closed',
      'measures.csv',
      (text) => text.replace('Short schedule', '"Short schedule'),
      { code: 'bad-file', where: { file: 'measures.csv' } },
    ],
    [
      'a break nobody can read',
      'quotes.csv',
      (text) => text.replace('from 400 packs $47.25', '400+ = 47.25'),
      { code: 'bad-value', where: { file: 'quotes.csv', row: 2, column: 'breaks' } },
    ],
    [
      'a boundary of no field',
      'boundaries.geojson',
      (text) => text.replace('"Mule Lot"', '"Mule Pen"'),
      { code: 'unknown-name', where: { file: 'boundaries.geojson', name: 'Mule Pen' } },
    ],
    [
      'boundaries that are no JSON',
      'boundaries.geojson',
      () => '{',
      { code: 'bad-file', where: { file: 'boundaries.geojson' } },
    ],
    [
      'a rule that is not known',
      'house.json',
      (text) => text.replace('"reserve"', '"reserves"'),
      { code: 'bad-value' },
    ],
    ['a house that is no JSON', 'house.json', () => '{', { code: 'bad-file', where: { file: 'house.json' } }],
    [
      'a pressure that is none',
      'fields.csv',
      (text) => text.replace(/^(.*?)\n([^,]*),[\d.]+,/, '$1\n$2,-5,'),
      { code: 'bad-value', where: { file: 'fields.csv', row: 2, column: 'acres' } },
    ],
    [
      'a measure that stops more than all of it',
      'measures.csv',
      () => 'measure,group,cost $/acre,stops spotted wilt %\nSpray,fungicide,$12,120\n',
      { code: 'bad-value', where: { file: 'measures.csv', row: 2, column: 'stops spotted wilt' } },
    ],
    ['no header', 'fields.csv', () => '', { code: 'bad-file', where: { file: 'fields.csv' } }],
  ]
  it.each(cases)('%s', (_, file, change, problem) => {
    const files = demoFiles()
    files[file] = change(files[file])
    const season = seasonFromFiles(files)
    expect(season.ok).toBe(false)
    if (!season.ok)
      expect(season.problems).toContainEqual(
        expect.objectContaining({
          ...problem,
          ...('where' in problem ? { where: expect.objectContaining(problem.where as object) } : {}),
        }),
      )
  })
})

describe('what may be left out of the files', () => {
  const fields = 'field,acres,row spacing in,rows,water,yield goal lb/acre,least block acres,most varieties\n'
  const read = (rows: string) => {
    const table = readTable(fields + rows, 'fields.csv')
    if (!table.ok) throw new Error(JSON.stringify(table.problems))
    const { records, problems } = readFields(table.value)
    expect(problems).toEqual([])
    return records.map(({ value }) => [value.name, value.split])
  }

  it('one of the two things that split a field: the other is what is usual', () => {
    expect(
      read('A,100,36,single,dryland,3000,30,\nB,100,36,single,dryland,3000,,3\nC,100,36,single,dryland,3000,,\n'),
    ).toEqual([
      ['A', { leastBlockAcres: 30, mostVarieties: 2 }],
      ['B', { leastBlockAcres: 0, mostVarieties: 3 }],
      ['C', undefined],
    ])
  })

  it('blank rows, and cells at the end of a row', () => {
    expect(read(' ,,,,,\nA,100,36,single,dryland,3000\n\n')).toEqual([['A', undefined]])
  })

  it('what a measure stops', () => {
    const table = readTable('measure,group,cost $/acre\nSpray,fungicide,$12\n', 'measures.csv')
    if (!table.ok) throw new Error(JSON.stringify(table.problems))
    expect(readMeasures(table.value).records).toMatchObject([{ value: { name: 'Spray', efficacy: {} } }])
  })
})

it('water, rows and tillage by the trade’s other words, as in a grid', () => {
  const table = readTable(
    'field,acres,row spacing in,rows,water,tillage,yield goal lb/acre\nA,100,36,Twin rows,Pivot,strip-till,3000\n',
    'fields.csv',
  )
  if (!table.ok) throw new Error(JSON.stringify(table.problems))
  const read = readFields(table.value)
  expect(read.problems).toEqual([])
  expect(read.records).toMatchObject([{ value: { rowPattern: 'twin', water: 'irrigated', tillage: 'strip' } }])
})
