/** Season files that are wrong: each problem names the file, the place, the thing and what to do; nothing is guessed. */
import { describe, expect, it } from 'vitest'
import { readJson } from '../../src-shared/read-file.ts'
import { readSeason } from '../../src-shared/season.ts'
import { seasonFile, type SeasonFile } from '../support/a-season.ts'

function problemsOf(change: (file: SeasonFile) => void) {
  const file = seasonFile()
  change(file)
  const read = readSeason(file, 'farm.season.json')
  return read.ok ? [] : read.problems
}

it('reads a good file', () => {
  expect(problemsOf(() => undefined)).toEqual([])
})

describe('refuses, with file, place, name and remedy', () => {
  const cases: [string, (file: SeasonFile) => void, { code: string; path: string; name?: string; what: RegExp }][] = [
    ['a later version', (file) => (file.version = 9), { code: 'future-version', path: 'version', what: /version 9/ }],
    ['no version', (file) => delete file.version, { code: 'missing', path: 'version', what: /no value|No value/ }],
    [
      'another format',
      (file) => (file.format = 'other'),
      { code: 'bad-value', path: 'format', what: /standwell-season/ },
    ],
    [
      'negative acres',
      (file) => (file.fields[1]!.acres = -5),
      {
        code: 'bad-value',
        path: 'fields[1].acres',
        name: 'Creek',
        what: /Creek: "acres" must be more than 0 acres, not -5/,
      },
    ],
    [
      'acres as text',
      (file) => (file.fields[0]!.acres = '40'),
      { code: 'bad-value', path: 'fields[0].acres', name: 'Home', what: /must be a number of acres, not "40"/ },
    ],
    [
      'a variety without seed count',
      (file) => delete file.varieties[0]!.seedsPerPound,
      {
        code: 'missing',
        path: 'varieties[0].seedsPerPound',
        name: 'Big',
        what: /Big has no value for "seedsPerPound"/,
      },
    ],
    [
      'a quote for an unknown variety',
      (file) => (file.quotes[0]!.variety = 'Bigg'),
      { code: 'unknown-name', path: 'quotes[0].variety', name: 'Bigg', what: /no variety named "Bigg"/ },
    ],
    [
      'a quote of an unknown dealer',
      (file) => (file.quotes[1]!.dealer = 'South'),
      { code: 'unknown-name', path: 'quotes[1].dealer', name: 'South', what: /no dealer/ },
    ],
    [
      'two fields of one name',
      (file) => (file.fields[1]!.name = 'home'),
      { code: 'repeated-name', path: 'fields[1].name', name: 'home', what: /twice/ },
    ],
    [
      'a word that is not known',
      (file) => (file.fields[0]!.acers = 40),
      { code: 'unknown-name', path: 'fields[0].acers', name: 'Home', what: /not known/ },
    ],
    [
      'a day that does not exist',
      (file) => (file.quotes[0]!.orderBy = '2027-02-30'),
      { code: 'bad-value', path: 'quotes[0].orderBy', what: /must be a date/ },
    ],
    [
      'a price with a fraction of a cent',
      (file) => (file.quotes[0]!.packPriceCents = 46.5),
      { code: 'bad-value', path: 'quotes[0].packPriceCents', what: /whole number/ },
    ],
    [
      'pressure of a threat that is not listed',
      (file) => (file.fields[0]!.pressure = { rust: 'low' }),
      { code: 'unknown-name', path: 'fields[0].pressure.rust', what: /no threat/ },
    ],
    [
      'a rating out of the scale',
      (file) => (file.varieties[0]!.ratings = { 'late leaf spot': 10 }),
      { code: 'bad-value', path: 'varieties[0].ratings.late leaf spot', name: 'Big', what: /1 to 9/ },
    ],
    [
      'a rule without its amount',
      (file) => (file.rules = [{ rule: 'reserve' }]),
      { code: 'missing', path: 'rules[0].amount', what: /no amount/ },
    ],
    [
      'a lock on an unknown field',
      (file) => (file.locks = [{ field: 'Hill', variety: 'Big' }]),
      { code: 'unknown-name', path: 'locks[0].field', name: 'Hill', what: /no field/ },
    ],
  ]
  it.each(cases)('%s', (_, change, { code, path, name, what }) => {
    const problems = problemsOf(change)
    expect(problems).toHaveLength(1)
    const [problem] = problems
    expect(problem).toMatchObject({ code, where: { file: 'farm.season.json', path } })
    expect(problem?.what).toMatch(what)
    expect(problem?.remedy.length).toBeGreaterThan(5)
    if (name !== undefined) expect(problem?.where?.name).toBe(name)
  })

  it('tells all of them, not only the first', () => {
    const problems = problemsOf((file) => {
      file.fields[0]!.acres = -1
      file.fields[1]!.rowPattern = 'zigzag'
      file.varieties[1]!.germination = 8.5
    })
    expect(problems.map((problem) => problem.where?.path)).toEqual([
      'fields[0].acres',
      'fields[1].rowPattern',
      'varieties[1].germination',
    ])
  })

  it.each([null, 7, 'text', [], { __proto__: null }])('%j instead of a season', (raw) => {
    const read = readSeason(raw, 'x')
    expect(read.ok).toBe(false)
  })
})

describe('JSON that breaks off', () => {
  it('names the line', () => {
    const read = readJson('{\n "a": 1,\n "b": }\n', 'farm.season.json')
    expect(read.ok ? [] : read.problems[0]).toMatchObject({
      code: 'bad-file',
      where: { file: 'farm.season.json', path: 'line 3' },
    })
  })

  it('takes a byte-order mark', () => {
    expect(readJson('\uFEFF{"a":1}', 'x')).toEqual({ ok: true, value: { a: 1 } })
  })
})
