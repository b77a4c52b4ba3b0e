/** Where a file of JSON breaks off, and what is said of a value that will not do, to the place. */
import * as v from 'valibot'
import { expect, test } from 'vitest'
import { problemsFrom, readJson } from '../../src-shared/read-file.ts'
import { readPlanFile } from '../../src-shared/plan-file.ts'
import { readPlanProblem } from '../../src-shared/plan-problem.ts'
import { readSeason } from '../../src-shared/season.ts'
import { smallSeason } from '../support/open-file.ts'

test.each([
  ['{"a": 1,\n"b": }', 2],
  ['{"a": 1,\n"b": 2\n', 2],
  ['', 1],
  ['{"a": "never closed', 1],
  ['[1, 2]\n]', 2],
  ['{"a": tru\n}', 1],
  ['{"a": "tab\there"}', 1],
])('%j goes wrong where it says', (text, line) => {
  const read = readJson(text, 'f.json')
  expect(read).toMatchObject({ ok: false, problems: [{ code: 'bad-file', where: { file: 'f.json' } }] })
  if (read.ok) return
  expect(read.problems[0]!.what).toContain(`in line ${line}.`)
  expect(read.problems[0]!.where).toMatchObject({ path: `line ${line}` })
})

test('a byte-order mark is no fault', () =>
  expect(readJson('\uFEFF{"a":1}', 'f')).toEqual({ ok: true, value: { a: 1 } }))

const thing = v.strictObject({
  name: v.string(),
  parts: v.array(v.strictObject({ id: v.string(), size: v.pipe(v.number(), v.minValue(1, 'must be 1 or more')) })),
})

function told(raw: unknown) {
  const parsed = v.safeParse(thing, raw)
  return parsed.success ? [] : problemsFrom(parsed.issues, raw, 'f.json')
}

test.each<[unknown, { code: string; what: RegExp; path?: string; name?: string }]>([
  [
    { name: 'A', parts: [{ id: 'p', size: 0 }] },
    { code: 'bad-value', what: /^P: "size" must be 1 or more, not 0\.$/, path: 'parts[0].size', name: 'p' },
  ],
  [
    { name: 'A', parts: [{ id: 'p', size: 'x'.repeat(60) }] },
    { code: 'bad-value', what: /not "x{40}…"/, path: 'parts[0].size' },
  ],
  [
    { name: 'A', parts: [{ id: 'p', size: null }] },
    { code: 'bad-value', what: /not null\./ },
  ],
  [
    { name: 'A', parts: [{ id: 'p', size: [] }] },
    { code: 'bad-value', what: /not a list\./ },
  ],
  [
    { name: 'A', parts: [{ id: 'p', size: {} }] },
    { code: 'bad-value', what: /not an object\./ },
  ],
  [
    { name: 'A', parts: [{ id: 'p', size: true }] },
    { code: 'bad-value', what: /not true\./ },
  ],
  [
    { name: 'A', parts: [{ id: 'p' }] },
    { code: 'missing', what: /no value for "size"/, path: 'parts[0].size' },
  ],
  [{ parts: [] }, { code: 'missing', what: /^No value for "name"/, path: 'name' }],
  [
    { name: 'A', parts: [], more: 1 },
    { code: 'unknown-name', what: /"more" is not known here/, path: 'more' },
  ],
  [7, { code: 'bad-value', what: /not 7\./ }],
  [undefined, { code: 'missing', what: /^No value for ""/ }],
])('%j', (raw, { code, what, path, name }) => {
  const [problem] = told(raw)
  expect(problem?.code).toBe(code)
  expect(problem?.what).toMatch(what)
  if (path !== undefined) expect(problem?.where?.path).toBe(path)
  if (name !== undefined) expect(problem?.where?.name).toBe(name)
})

test('of very many problems fifty are listed, and the rest counted', () => {
  const problems = told({ name: 'A', parts: Array.from({ length: 60 }, (_, at) => ({ id: `${at}`, size: 0 })) })
  expect(problems).toHaveLength(51)
  expect(problems.at(-1)?.what).toBe('There are 10 more problems.')
})

test('a plan is read against the season that it was made from', () => {
  const season = smallSeason()
  const [quote] = season.quotes
  const title = `${quote!.dealer} · ${quote!.variety}${quote!.name === undefined ? '' : ` · ${quote!.name}`}`
  const bought = {
    quote: title,
    dealer: quote!.dealer,
    variety: quote!.variety,
    packs: 4,
    packPounds: 50,
    packPriceCents: 4000,
    fromPacks: 0,
    pounds: 200,
    cents: 16_000,
  }
  expect(readPlanFile({ plan: { purchases: [bought] } }, 'p.json', season)).toEqual({
    ok: true,
    value: { purchases: [bought] },
  })
  const other = { plan: { purchases: [{ ...bought, quote: 'Nobody · Nothing' }] } }
  expect(readPlanFile(other, 'p.json', season)).toMatchObject({
    ok: false,
    problems: [{ code: 'unknown-name', where: { path: 'plan.purchases[0].quote' } }],
  })
  for (const raw of [null, {}, { plan: null }, { plan: { purchases: 7 } }]) {
    expect(readPlanFile(raw, 'p.json', season).ok).toBe(false)
  }
})

test('a season from the future, and names that nobody knows, are refused by place', () => {
  const season = smallSeason()
  expect(readSeason({ ...season, version: 99 }, 's.json')).toMatchObject({ problems: [{ code: 'future-version' }] })
  const [field] = season.fields
  const lost = {
    ...season,
    fields: [{ ...field!, windows: ['Midnight'] }, ...season.fields.slice(1)],
    locks: [{ field: 'Nowhere', variety: season.varieties[0]!.name }],
    exclusions: [{ window: 'Never' }],
    carried: [{ variety: 'None', pounds: 10 }],
    rules: [{ rule: 'largest-share' }],
  }
  const read = readSeason(lost, 's.json')
  expect(read.ok).toBe(false)
  if (read.ok) return
  expect(read.problems.map(({ where }) => where?.path)).toEqual([
    'fields[0].windows[0]',
    'carried[0].variety',
    'locks[0].field',
    'exclusions[0].window',
    'rules[0].amount',
  ])
})

test('a problem file from the future, and ids that stand twice or nowhere, are refused by place', () => {
  const raw = {
    format: 'standwell-problem',
    version: 1,
    fields: [{ id: 'F', acres: 10 }],
    varieties: [{ id: 'A' }],
    options: [{ field: 'F', variety: 'A', poundsPerAcre: 100 }],
  }
  expect(readPlanProblem(raw, 'p.json')).toMatchObject({ ok: true })
  expect(readPlanProblem({ ...raw, version: 2 }, 'p.json')).toMatchObject({
    problems: [
      { code: 'future-version', where: { file: 'p.json', path: 'version' }, remedy: 'Use a newer Standwell.' },
    ],
  })
  const lost = {
    ...raw,
    fields: [...raw.fields, ...raw.fields],
    options: [{ field: 'F', variety: 'B', poundsPerAcre: 100 }],
    quotes: [{ id: 'q', dealer: 'N', variety: 'A', packPriceCents: 1 }],
    carried: [{ variety: 'C', pounds: 1 }],
    rules: {
      largestShare: [{ share: 0.5 }, { variety: 'D', share: 0.5 }],
      locks: [{ field: 'G', variety: 'A' }],
      planted: [{ field: 'H' }],
      exclusions: [{ variety: 'E' }],
      stayPut: { plan: [{ field: 'I', variety: 'A' }], centsPerMove: 1 },
    },
  }
  const read = readPlanProblem(lost, 'p.json')
  expect(read.ok ? [] : read.problems.map(({ code, where }) => [code, where?.path])).toEqual([
    ['repeated-name', 'fields[1].id'],
    ['unknown-name', 'options[0].variety'],
    ['unknown-name', 'quotes[0].dealer'],
    ['unknown-name', 'carried[0].variety'],
    ['unknown-name', 'rules.largestShare[1].variety'],
    ['unknown-name', 'rules.locks[0].field'],
    ['unknown-name', 'rules.planted[0].field'],
    ['unknown-name', 'rules.exclusions[0].variety'],
    ['unknown-name', 'rules.stayPut.plan[0].field'],
  ])
  expect(readPlanProblem(null, 'p.json').ok).toBe(false)
})

test('a quote that stands twice, and a name that is the known one but for its writing', () => {
  const season = smallSeason()
  const [quote] = season.quotes
  const twice = readSeason({ ...season, quotes: [...season.quotes, quote] }, 's.json')
  expect(twice.ok ? [] : twice.problems).toMatchObject([
    {
      code: 'repeated-name',
      where: { path: `quotes[${season.quotes.length}]` },
      remedy: expect.stringContaining('quotes[0]'),
    },
  ])
  const [variety] = season.varieties
  const written = { field: season.fields[0]!.name, variety: variety!.name.toUpperCase() }
  const near = readSeason({ ...season, locks: [written] }, 's.json')
  expect(near.ok ? '' : near.problems[0]?.remedy).toContain(`perhaps "${variety!.name}" was meant`)
})
