/** Lessons: how far one season moves a value, what it is held against, and what it must not conclude. */
import { describe, expect, it } from 'vitest'
import { lessonsOf } from '../../../src-shared/review/lessons.ts'
import { movedTo, weightOf } from '../../../src-shared/review/lesson.ts'
import { reckon } from '../../../src-shared/review/review.ts'
import type { ReviewInput } from '../../../src-shared/review/review-input.ts'
import { pick } from '../demo-farm.ts'
import { randomRecord } from '../../support/review-input.ts'

/** Two varieties on two fields each, planted from a lot each; what a field made is given. */
function season(pounds: Record<string, number>, change: Partial<ReviewInput> = {}): ReviewInput {
  const base = randomRecord(3, { fields: 4, lots: 2, loads: 0 })
  const names = base.season.fields.map(({ name }) => name)
  const own = ['Amber', 'Bison', 'Amber', 'Bison']
  const lots = ['Amber', 'Bison'].map((variety, at) => ({
    ...base.lots[0]!,
    ...{ id: at + 1, name: variety, variety, state: 'received' as const, pounds: 50_000, returnedPounds: 0 },
    ...{ germination: 0.85, germinationFrom: 'the variety' as const, countFrom: 'the variety' as const },
  }))
  const plantings = base.season.fields.map((field, at) => ({
    ...{ id: at + 1, field: field.name, isFinished: true, plantedOn: '2027-05-04', acres: field.acres },
    ...{ rowPattern: null, seedsPerFoot: 6, lots: [{ lotId: own[at] === 'Amber' ? 1 : 2, pounds: 1000 }] },
    ...{ measures: [], counts: [] },
  }))
  const loads = base.season.fields.map((field, at) => ({
    ...randomRecord(3).loads[0]!,
    ...{ id: at + 1, field: field.name, grown: own[at]! },
    net: {
      onScale: 0,
      foreignPounds: 0,
      loosePounds: 0,
      excessWaterPounds: 0,
      netPounds: pounds[names[at]!]! * field.acres,
    },
    valueCents: null,
  }))
  return { ...base, lots, plantings, loads, costs: [], seen: [], planned: null, ...change }
}

const of = (record: ReviewInput) => lessonsOf(reckon(record), record.season)

/** What each field is expected to make. */
function expectedPounds(): Record<string, number> {
  const { blocks } = reckon(season({ 'Field 1': 1, 'Field 2': 1, 'Field 3': 1, 'Field 4': 1 }))
  return Object.fromEntries(blocks.map(({ field, expectedLb }) => [field, expectedLb]))
}

it('the weight of what was seen is n ÷ (n + k)', () => {
  expect(weightOf(4, 4)).toBe(0.5)
  expect(weightOf(1, 4)).toBe(0.2)
  expect(weightOf(3, 0)).toBe(1)
  expect(movedTo(1, 1.2, 0.5)).toBeCloseTo(1.1, 12)
})

describe('yield against the rest of the farm', () => {
  it('a bad year for all teaches nothing of a variety', () => {
    const bad = Object.fromEntries(Object.entries(expectedPounds()).map(([field, pounds]) => [field, pounds * 0.6]))
    expect(of(season(bad)).filter(({ kind }) => kind === 'yield')).toEqual([])
  })

  it('one that did better than the other goes up by a third of it: two fields against a worth of four', () => {
    const expected = expectedPounds()
    const did = Object.fromEntries(
      Object.entries(expected).map(([field, pounds]) => [field, pounds * (/[13]$/.test(field) ? 1.1 : 0.9)]),
    )
    const lessons = of(season(did)).filter(({ kind }) => kind === 'yield')
    expect(lessons.map(({ about }) => about)).toEqual(['Yield of Amber', 'Yield of Bison'])
    expect(lessons[0]!.weight).toBeCloseTo(2 / 6, 12)
    // Amber did 1.1 of expected where the farm did 1.0: seen 1.10, a third of the way from 1.00.
    expect(lessons[0]).toMatchObject({ old: '1.00', seen: '1.10', proposed: '1.03' })
    expect(lessons[1]).toMatchObject({ old: '1.05', seen: '0.95', proposed: '1.02' })
  })
})

describe('pressure', () => {
  const pounds = () => expectedPounds()
  const seen = (level: 'none' | 'severe', measures: string[] = []) => {
    const record = season(pounds())
    return of({
      ...record,
      season: {
        ...record.season,
        fields: record.season.fields.map((field) => ({ ...field, pressure: { 'spotted wilt': 'moderate' as const } })),
      },
      plantings: record.plantings.map((planting) => ({ ...planting, measures })),
      seen: [{ id: 1, fieldId: 1, field: 'Field 1', threat: 'spotted wilt', level }],
    }).filter(({ kind }) => kind === 'pressure')
  }
  it('worse than assumed: half of the way, rounded up', () => {
    expect(seen('severe')).toMatchObject([{ old: 'moderate', seen: 'severe', proposed: 'high', weight: 0.5 }])
  })
  it('better than assumed counts only where nothing was used against it', () => {
    expect(seen('none')).toMatchObject([{ old: 'moderate', proposed: 'low' }])
    expect(seen('none', ['In-furrow'])).toEqual([])
  })
  it('worse in spite of a measure counts', () => {
    expect(seen('severe', ['In-furrow'])).toHaveLength(1)
  })
})

it('emergence is what was counted of the seeds that germinate', () => {
  const record = season(expectedPounds())
  const plantings = record.plantings.map((planting) => ({
    ...planting,
    rowPattern: 'single' as const,
    counts: [{ countedOn: '2027-05-28', spots: [{ feet: 10, plants: 36 }] }],
  }))
  const lesson = pick(of({ ...record, plantings }), ({ kind }) => kind === 'emergence')
  // 3.6 plants ÷ (6 seeds × 0.85) = 0.706; four plantings against a worth of four: half-way from 0.83.
  expect(lesson).toMatchObject({ key: 'book/emergence/field/single', old: '83 %', seen: '70.6 %', weight: 0.5 })
  expect(lesson.change).toEqual({ to: 'book', key: 'emergence/field/single', value: 0.77 })
})

it('a value of what is not in the season that is written in is not taught', () => {
  const record = season(expectedPounds())
  const without = { ...record.season, varieties: [], fields: [] }
  const lessons = lessonsOf(reckon(record), without)
  expect(lessons.filter(({ change }) => change.to === 'sheet')).toEqual([])
})
