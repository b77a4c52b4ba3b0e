/** Every check of a tag and its tests, each spoilt by itself; what is within every limit says nothing to heed. */
import { describe, expect, it } from 'vitest'
import { tagChecks, type TagFacts } from '../../../src-shared/agronomy/tag-checks.ts'
import { Book } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import type { GerminationTest } from '../../../src-shared/germination-test.ts'
import type { Tag } from '../../../src-shared/tag.ts'
import { fullTag } from './a-tag.ts'

const book = new Book(starterBook)

function checksOf(change: Partial<Tag>, facts: Partial<TagFacts> = {}, of = book) {
  const full = fullTag()
  return tagChecks(of, { ...full, ...facts, tag: { ...full.tag, ...change } })
}

const heeded = (checks: ReturnType<typeof tagChecks>) =>
  checks.filter(({ verdict }) => verdict !== 'fits').map(({ item, verdict }) => `${item} ${verdict}`)

function test(germination: number, sprouted: number[] = [], seeds = 100): GerminationTest {
  const replicates = sprouted.map((each) => ({ seeds, sprouted: each }))
  return { id: 1, testedOn: '2027-04-20', laboratory: null, germination, hardSeed: null, replicates, note: null }
}

it('a whole tag within every limit has nothing to heed, and every check names its source', () => {
  const checks = checksOf({})
  expect(heeded(checks)).toEqual([])
  expect(checks.length).toBeGreaterThan(7)
  for (const { source, says } of checks) {
    expect(source.length).toBeGreaterThan(3)
    expect(says.length).toBeGreaterThan(3)
  }
})

describe('what the law asks for', () => {
  it.each([
    [{ variety: null }, ['variety missing']],
    [{ lotNumber: null }, ['lotNumber missing']],
    [{ pureSeed: null }, ['pureSeed missing']],
    [{ otherCrop: null }, ['otherCrop missing']],
    [{ inert: null }, ['inert missing']],
    [{ weedSeed: null }, ['weedSeed missing']],
    [{ germination: null }, ['germination missing']],
    [{ testedIn: null }, ['testedIn missing']],
    [{ treatment: null }, ['treatment missing']],
    [{ caution: null }, ['caution missing']],
    [{ shipper: null }, ['shipper missing']],
    // Asked for only where there is any, or where the rules for the kind say so.
    [{ origin: null }, ['origin heed']],
    [{ noxiousPerPound: null }, ['noxiousPerPound heed']],
    [{ hardSeed: null }, ['hardSeed heed']],
    [{ seedsPerPound: null }, ['seedsPerPound heed']],
  ] as [Partial<Tag>, string[]][])('%o', (change, found) => {
    expect(heeded(checksOf(change))).toEqual(found)
  })
  it('seed that is not treated needs no caution, but is not what was ordered', () => {
    expect(heeded(checksOf({ isTreated: false, treatment: null, caution: null }))).toEqual(['isTreated heed'])
  })
})

describe('limits, on both sides', () => {
  it.each([
    [{ variety: 'Bison' }, ['variety fails']],
    [{ variety: ' amber ' }, []],
    [{ lotNumber: '71-A' }, ['lotNumber fails']],
    [{ pureSeed: 0.9, inert: 0.0999 }, []],
    [{ pureSeed: 0.8999, inert: 0.1 }, ['pureSeed heed']],
    [{ pureSeed: 0.9, inert: 0.1001, otherCrop: 0 }, ['inert heed']],
    [{ otherCrop: 0.0003, inert: 0.0142 }, ['otherCrop heed']],
    [{ weedSeed: 0.0002, inert: 0.0142 }, ['weedSeed heed']],
    [{ inert: 0.02 }, ['sum fails']],
    [{ germination: 0.85 }, []],
    [{ germination: 0.84 }, ['germination heed']],
    [{ germination: 0.79 }, ['germination heed', 'germination heed']],
    [{ germination: 0.75 }, ['germination heed', 'germination heed']],
    [{ germination: 0.74 }, ['germination fails', 'germination heed']],
    [{ seedsPerPound: 659 }, ['seedsPerPound heed']],
    [{ seedsPerPound: 661 }, []],
  ] as [Partial<Tag>, string[]][])('%o', (change, found) => {
    expect(heeded(checksOf(change))).toEqual(found)
  })
  it('the age of the test, to the day, open and sealed', () => {
    expect(heeded(checksOf({ testedIn: '2026-11' }, { arrivedOn: '2027-04-30' }))).toEqual([])
    expect(heeded(checksOf({ testedIn: '2026-11' }, { arrivedOn: '2027-05-01' }))).toEqual(['testedIn fails'])
    expect(heeded(checksOf({ testedIn: '2025-05', isHermetic: true }, { arrivedOn: '2027-05-31' }))).toEqual([])
    expect(heeded(checksOf({ testedIn: '2025-04', isHermetic: true }, { arrivedOn: '2027-05-01' }))).toEqual([
      'testedIn fails',
    ])
  })
  it('the state’s own limits are rows of the book', () => {
    const own = (key: string, value: number) => new Book(starterBook, [{ ...book.row(key), value }])
    const months = own('tag/months to sale in the state', 9)
    expect(heeded(checksOf({ testedIn: '2026-07' }, { arrivedOn: '2027-04-30' }, months))).toEqual(['testedIn fails'])
    expect(heeded(checksOf({ testedIn: '2026-06' }, { arrivedOn: '2027-04-01' }, months))).toEqual([
      'testedIn fails',
      'testedIn fails',
    ])
    expect(heeded(checksOf({ germination: 0.86 }, {}, own('tag/least germination', 0.87)))).toEqual([
      'germination fails',
    ])
    expect(heeded(checksOf({}, {}, own('tag/least pure seed', 0.99)))).toEqual(['pureSeed heed'])
  })
  it('noxious seeds in a sample, by the table and not by its formula', () => {
    const found = (noxiousPerPound: number, noxiousFound: number, noxiousSamplePounds = 2) =>
      heeded(checksOf({ noxiousPerPound, noxiousFound, noxiousSamplePounds }))
    expect(found(0, 2)).toEqual([])
    expect(found(0, 3)).toEqual(['noxiousFound fails'])
    // 3 labelled: the table has 8, the formula 7.4.
    expect(found(1.5, 8)).toEqual([])
    expect(found(1.5, 9)).toEqual(['noxiousFound fails'])
    expect(found(16, 1)).toEqual(['noxiousFound heed'])
  })
})

it('seed that is treated and was not ordered so is said in words; a lot that is not here yet has no age', () => {
  const promised = { ...fullTag().promised, isTreated: false }
  expect(checksOf({}, { promised }).find(({ item }) => item === 'isTreated')?.says).toBe(
    'The tag says treated, the order not treated.',
  )
  expect(checksOf({ isTreated: false }).find(({ item }) => item === 'isTreated')?.says).toBe(
    'The tag says not treated, the order treated.',
  )
  expect(checksOf({}, { arrivedOn: null }).some(({ item }) => item === 'testedIn')).toBe(false)
})

describe('tests', () => {
  const of = (germination: number, each: GerminationTest) => heeded(checksOf({ germination }, { tests: [each] }))
  it('a retest is held against the tag by the tolerance table', () => {
    expect(of(0.9, test(0.84))).toEqual([])
    const above = checksOf({ germination: 0.85 }, { tests: [test(0.9)] }).filter(({ item }) => item === 'retest')
    expect(above.map(({ says }) => says).join(' ')).toContain('it is 5 above')
    expect(of(0.85, test(0.77))).toEqual(['retest heed', 'retest fails'])
  })
  it('with fewer than 400 seeds the table only warns', () => {
    expect(of(0.95, test(0.85, [170], 200))).toEqual(['retest heed'])
    expect(of(0.95, test(0.85, [80, 84, 88, 88]))).toEqual(['retest fails'])
  })
  it('replicates may range as far as the table lets them', () => {
    expect(of(0.88, test(0.88, [82, 95, 87, 88]))).toEqual([])
    expect(of(0.88, test(0.88, [81, 95, 88, 88]))).toEqual(['replicates fails'])
    expect(of(0.88, test(0.88, [83, 93]))).toEqual([])
    expect(of(0.88, test(0.88, [82, 94]))).toEqual(['replicates fails'])
    expect(of(0.88, test(0.88, [44, 44], 50))).toEqual(['replicates heed'])
    expect(of(0.88, test(0.88, [88]))).toEqual([])
    // Below an average of the table's last row nothing is claimed of the replicates.
    expect(of(0.88, test(0.88, [2, 0]))).toContain('replicates heed')
  })
})
