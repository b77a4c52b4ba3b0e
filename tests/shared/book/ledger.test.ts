/**
 * The house book as a reader sees it: by topic, default and own side by side; changing and resetting a row; and rows
 * that nothing reads.
 */
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import { assumptionSchema, type Assumption } from '../../../src-shared/assumption.ts'
import { resetRow } from '../../../src-shared/book/change.ts'
import { ledgerOf, setAssumption, type LedgerRow } from '../../../src-shared/book/ledger.ts'
import { unreadRows } from '../../../src-shared/book/unread-rows.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { seasonSchema, type Season } from '../../../src-shared/season.ts'
import * as v from 'valibot'
import { demoFarm, pick } from '../demo-farm.ts'
import { set } from './set-row.ts'

const farm = demoFarm()
const rowsOf = (season: Season): LedgerRow[] => ledgerOf(season).flatMap((topic) => topic.rows)
const rowOf = (season: Season, key: string) => pick(rowsOf(season), (row) => row.key === key)

function refused(season: Season, key: string, value: number | string) {
  const changed = setAssumption(season, key, { value })
  return changed.ok ? null : changed.problems
}

describe('the ledger', () => {
  it('has every row of the starter set once, under a heading', () => {
    const keys = rowsOf(farm).map((row) => row.key)
    expect(new Set(keys).size).toBe(keys.length)
    for (const { key } of starterBook) expect(keys).toContain(key)
    // Rows of one kind stand under one heading, every heading has rows, and the threats come last, as the farm has them.
    const topics = ledgerOf(farm).map(({ topic }) => topic)
    const own = farm.threats.map(({ name }) => `Threat: ${name}`)
    expect(topics.slice(-own.length)).toEqual(own)
    expect(new Set(topics).size).toBe(topics.length)
    expect(topics).not.toContain('Other')
    expect(ledgerOf(farm).filter(({ rows }) => rows.length === 0)).toEqual([])
    const headings = new Map<string, Set<string>>()
    for (const { topic, rows } of ledgerOf(farm)) {
      for (const { key } of rows.filter(({ key }) => !key.startsWith('threat/'))) {
        const kind = key.split('/')[0]!
        headings.set(kind, (headings.get(kind) ?? new Set()).add(topic))
      }
    }
    expect([...headings].filter(([, found]) => found.size > 1)).toEqual([])
    // What one looks up most comes first: what a ton brings, then the seed; ratings lead on to the threats.
    expect(topics[0]).toBe([...headings.get('price')!][0])
    expect(topics[1]).toBe([...headings.get('drop')!][0])
    expect(topics.at(-own.length - 1)).toBe([...headings.get('rating')!][0])
  })

  it("shows the default beside the farm's own value", () => {
    const price = rowOf(farm, 'price/peanuts')
    expect(price.default?.value).toBe(500)
    expect(price.own?.value).toBe(520)
    expect(price).toMatchObject({ value: 520, isChanged: true })
    expect(rowOf(farm, 'stand/reference')).toMatchObject({ value: 4, isChanged: false, own: null })
  })

  it('offers the rows that a threat of the farm’s own can have, blank', () => {
    const season = { ...farm, threats: [...farm.threats, { name: 'Pod rot', kind: 'soil' as const }] }
    const rows = ledgerOf(season).find((topic) => topic.topic === 'Threat: Pod rot')?.rows ?? []
    expect(rows.map((row) => row.key)).toContain('threat/Pod rot/loss/high')
    for (const row of rows) expect(row).toMatchObject({ default: null, own: null, isChanged: false })
    expect(rowOf(season, 'threat/Pod rot/window/early').value).toBe(1)
  })
})

describe('a change', () => {
  it("replaces the row, keeps what others found, and says it is the farm's", () => {
    const season = set(farm, 'threat/spotted wilt/loss/high', 0.22, 'What we saw in 2024')
    const own = pick(season.assumptions, (row) => row.key === 'threat/spotted wilt/loss/high')
    expect(own).toMatchObject({ value: 0.22, sourceKind: 'the farm', source: 'What we saw in 2024' })
    expect(own.affects).toBe(rowOf(farm, own.key).affects)
    expect(set(season, 'date/loss a day after', 0.015).assumptions.at(-1)).toMatchObject({
      low: 0,
      high: 0.016,
      unit: 'share of yield per day',
      source: 'Set by the farm',
    })
    expect(v.safeParse(seasonSchema, season).success).toBe(true)
  })

  it('changes what is counted, and a reset takes it back', () => {
    const key = 'threat/spotted wilt/loss/high'
    const losses = (season: Season) => buildOptions(contextOf(season)).options.map((option) => option.lossCents)
    const season = set(farm, key, 0.22)
    expect(losses(season)).not.toEqual(losses(farm))
    const again = { ...season, assumptions: resetRow(season.assumptions, key) }
    expect(losses(again)).toEqual(losses(farm))
    expect(again.assumptions).toEqual(farm.assumptions)
  })

  it('of a row changed before leaves one row', () => {
    const season = set(set(farm, 'price/peanuts', 480), 'price/peanuts', 470)
    expect(season.assumptions.filter((row) => row.key === 'price/peanuts')).toHaveLength(1)
    expect(rowOf(season, 'price/peanuts').value).toBe(470)
  })

  it('writes a row of a threat of the farm’s own', () => {
    const threatened = { ...farm, threats: [...farm.threats, { name: 'Pod rot', kind: 'soil' as const }] }
    const season = set(threatened, 'threat/Pod rot/loss/high', 0.12)
    expect(rowOf(season, 'threat/Pod rot/loss/high')).toMatchObject({ value: 0.12, default: null, isChanged: true })
    expect(v.safeParse(seasonSchema, season).success).toBe(true)
  })

  it('may have a range of its own, which stays when the value changes again', () => {
    const key = 'date/loss a day after'
    const own = (season: Season) => pick(season.assumptions, (row) => row.key === key)
    const ranged = setAssumption(farm, key, { value: 0.02, low: 0.01, high: null })
    if (!ranged.ok) throw new Error(JSON.stringify(ranged.problems))
    expect(own(ranged.value)).toMatchObject({ value: 0.02, low: 0.01 })
    expect(own(ranged.value)).not.toHaveProperty('high')
    expect(own(set(ranged.value, key, 0.03))).toMatchObject({ value: 0.03, low: 0.01 })
    const low = (change: object) => setAssumption(farm, key, { value: 0.02, ...change })
    expect(low({ low: 0.03, high: 0.01 })).toMatchObject({ ok: false })
    expect(low({ low: 0.02 })).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
    expect(low({ high: 2 })).toMatchObject({ ok: false })
  })

  it('is refused where the value does not fit, with the range or the words', () => {
    expect(refused(farm, 'threat/spotted wilt/loss/high', 1.2)?.[0]?.what).toContain('from 0 to 1')
    expect(refused(farm, 'threat/spotted wilt/loss/high', 'much')).toHaveLength(1)
    expect(refused(farm, 'threat/spotted wilt/loss/high', Number.NaN)).toHaveLength(1)
    expect(refused(farm, 'vine/large/rank/action', 'pray')?.[0]?.remedy).toContain('hold back')
    expect(refused(farm, 'vine/large/rank/action', 3)).toHaveLength(1)
    expect(refused(farm, 'no/such row', 1)?.[0]?.code).toBe('unknown-name')
    expect(refused(farm, 'vine/large/rank/cost', -20)).toBeNull()
    expect(refused(farm, 'vine/large/rank/action', 'do not plant')).toBeNull()
  })
})

describe('a range and a unit of its own', () => {
  it('a word has none', () => {
    expect(setAssumption(farm, 'vine/large/rank/action', { value: 'hold back', low: 1 })).toMatchObject({
      ok: false,
      problems: [{ what: 'A word has no range.', remedy: 'Leave both ends of the range empty.' }],
    })
  })

  it('an end can be taken away, and a row without a unit is asked for a plain number', () => {
    const plain: Assumption = {
      key: 'moon/full',
      value: 1,
      unit: '',
      source: '',
      sourceKind: 'the farm',
      low: 0,
      high: 2,
    }
    const season = { ...farm, assumptions: [...farm.assumptions, plain] }
    const open = setAssumption(season, plain.key, { value: 1.5, low: null })
    if (!open.ok) throw new Error(JSON.stringify(open.problems))
    const own = pick(open.value.assumptions, ({ key }) => key === plain.key)
    expect(own).toMatchObject({ value: 1.5, high: 2 })
    expect(own).not.toHaveProperty('low')
    expect(refused(season, plain.key, 1e300)?.[0]).toMatchObject({ remedy: 'Enter a number in that range.' })
    // No heading is known for it.
    expect(ledgerOf(season).find(({ rows }) => rows.some(({ key }) => key === plain.key))?.topic).toBe('Other')
  })
})

describe('rows that nothing reads', () => {
  const row = (key: string): Assumption => ({ key, value: 1, unit: '', source: '', sourceKind: 'the farm' })

  it('are told of, those of the starter set and of any threat are not', () => {
    const season = {
      ...farm,
      threats: [...farm.threats, { name: 'Pod rot', kind: 'soil' as const }],
      assumptions: [
        'threat/spotted wlit/loss/high',
        'price/peanuts',
        'threat/Pod rot/share/5',
        'threat/Pod rot/moon/full',
      ].map(row),
    }
    expect(unreadRows(season).map((problem) => problem.where?.path)).toEqual([
      'threat/spotted wlit/loss/high',
      'threat/Pod rot/moon/full',
    ])
    expect(unreadRows(farm)).toEqual([])
    const said = buildOptions(contextOf(season)).notices.filter((notice) => notice.code === 'unknown-name')
    expect(said).toHaveLength(2)
  })

  it('keys take any name that a threat can have, and nothing that is no path', () => {
    const takes = (key: string) => v.safeParse(assumptionSchema, row(key)).success
    for (const name of ['Pod rot', 'Rust/late', 'Sclerotinia (blight)', 'Virus n° 2 – „Hof“', '/odd/']) {
      expect(takes(`threat/${name}/loss/high`), name).toBe(true)
    }
    for (const key of ['', 'price', ' price/peanuts', 'price/peanuts ', 'price/\n', `a/${'b'.repeat(300)}`]) {
      expect(takes(key), key).toBe(false)
    }
  })
})
