/** Every figure of a review opens its working: the first line is the figure, and every line works out from its terms. */
import { describe, expect, it } from 'vitest'
import type { WorkingLine } from '../../../src-shared/agronomy/working.ts'
import type { Figure } from '../../../src-shared/review/figure.ts'
import { moneyFigures } from '../../../src-shared/review/figure.ts'
import { costParts } from '../../../src-shared/review/bill.ts'
import { figureWorking } from '../../../src-shared/review/figure-working.ts'
import { lessonsOf } from '../../../src-shared/review/lessons.ts'
import { views } from '../../../src-shared/review/money-rows.ts'
import { reckon, reviewOf } from '../../../src-shared/review/review.ts'
import { walkSteps } from '../../../src-shared/review/seed-walk.ts'
import { measures, stages } from '../../../src-shared/review/side-by-side.ts'
import type { ReviewInput } from '../../../src-shared/review/review-input.ts'
import { randomRecord } from '../../support/review-input.ts'

/** Worked out again, by the words of the rule. */
function again({ rule, terms }: WorkingLine): number {
  const values = terms.map(({ value }) => value)
  const [a = 0, b = 0, c = 0] = values
  switch (rule) {
    case 'sum':
      return values.reduce((sum, each) => sum + each, 0)
    case 'product':
      return values.reduce((product, each) => product * each, 1)
    case 'over the last':
      return values.slice(0, -1).reduce((product, each) => product * each, 1) / values.at(-1)!
    case 'extra hours':
      return (a - b) * c
    default:
      throw new Error(`No review line is of the rule ${rule}.`)
  }
}

function holds(lines: readonly WorkingLine[]): void {
  for (const line of lines) {
    // A share of a bill is whole cents, for each of its pieces of ground: it may be some cents from its part.
    const slack = line.unit === '$' ? 0.0501 : 1e-6
    expect(Math.abs(again(line) - line.value), `${line.label}: ${line.formula}`).toBeLessThan(
      slack + Math.abs(line.value) * 1e-9,
    )
  }
}

/** The farm's own value in a row of the book, in the season and in the one that the plan was made from. */
function withBook(record: ReviewInput, key: string, value: number): ReviewInput {
  const row = { key, value, unit: '', source: '', sourceKind: 'the farm' as const }
  const season = { ...record.season, assumptions: [...record.season.assumptions, row] }
  return { ...record, season, planned: record.planned && { ...record.planned, from: season } }
}

/** The plan changed; a season without one is no example. */
function withPlan(record: ReviewInput, change: (planned: NonNullable<ReviewInput['planned']>) => object): ReviewInput {
  if (record.planned === null) throw new Error('The season has no plan.')
  return { ...record, planned: { ...record.planned, ...change(record.planned) } }
}

/** Finished without acres; from a lot that is gone; from a lot without its pounds; of a field that is gone. */
function lacking(record: ReviewInput): ReviewInput {
  const plantings = record.plantings.map((planting, at) => {
    const known = {
      ...planting,
      isFinished: true,
      seedsPerFoot: 6,
      counts: [{ countedOn: '2027-05-30', spots: [{ feet: 10, plants: 40 }] }],
    }
    if (at % 4 === 0) return { ...known, acres: null }
    if (at % 4 === 1) return { ...known, lots: [...planting.lots, { lotId: 999, pounds: 500 }] }
    return at % 4 === 2
      ? { ...known, lots: planting.lots.map((lot) => ({ ...lot, pounds: 0 })) }
      : { ...known, field: 'Gone' }
  })
  expect(plantings.length).toBeGreaterThan(3)
  return { ...record, plantings }
}

const usual = (seed: number) => randomRecord(seed, { fields: 6, lots: 7, loads: 20 })
const seasons: [string, ReviewInput][] = [
  ...[3, 8, 21, 44, 90, 131].map((seed): [string, ReviewInput] => [`season ${seed}`, usual(seed)]),
  ['of more fields and lots than are named one by one', randomRecord(5, { fields: 32, lots: 32, loads: 70 })],
  ['without a plan', { ...usual(8), planned: null }],
  [
    'of which two fields were renamed since the plan',
    withPlan(usual(8), ({ from }) => ({
      from: { ...from, fields: from.fields.map((field, at) => (at > 1 ? field : { ...field, name: `Old ${at}` })) },
    })),
  ],
  [
    'whose plan puts nothing anywhere',
    withPlan(usual(21), ({ plan }) => ({ plan: { ...plan, blocks: [], purchases: [], orders: [], seed: [] } })),
  ],
  ['with emergence that falls with the drop', withBook(usual(44), 'emergence/falls per seed', 0.03)],
  ['of peanuts that bring nothing', withBook(usual(90), 'price/peanuts', 0)],
  ['with plantings that lack what they should say', lacking(usual(3))],
  ['of lots that came without a pound', { ...usual(131), lots: usual(131).lots.map((lot) => ({ ...lot, pounds: 0 })) }],
  [
    'with nothing written down but the plan',
    { ...usual(44), orders: [], lots: [], plantings: [], loads: [], costs: [], seen: [] },
  ],
]

describe.each(seasons)('%s', (_name, record) => {
  const reckoning = reckon(record)
  const review = reviewOf(reckoning)
  const open = (figure: Figure) => {
    const working = figureWorking(reckoning, figure)
    if (!working.ok) throw new Error(JSON.stringify(working.problems))
    return working.value.lines
  }

  it.each(views)('what each %s cost and brought', (view) => {
    for (const row of [...review.money[view].rows, review.money[view].total]) {
      for (const what of moneyFigures) {
        const lines = open({ of: 'money', view, key: row.key, what })
        holds(lines)
        const part = costParts.find((each) => each === what)
        const cents = part
          ? row.costs[part]
          : what === 'cost'
            ? row.costCents
            : what === 'value'
              ? (row.valueCents ?? 0)
              : null
        if (cents !== null) expect(lines[0]!.value).toBeCloseTo(cents / 100, 6)
        if (what === 'tons') expect(lines[0]!.value).toBeCloseTo(row.tons ?? 0, 6)
      }
    }
  })

  it('every step from planned to paid', () => {
    const { seed: walk } = review
    if (walk === null) {
      expect(figureWorking(reckoning, { of: 'seed', variety: null, step: 'paid' }).ok).toBe(false)
      return
    }
    for (const step of [...walkSteps, 'planned', 'paid'] as const) {
      const lines = open({ of: 'seed', variety: null, step })
      holds(lines)
      const cents = step === 'planned' ? walk.plannedCents : step === 'paid' ? walk.paidCents : walk.steps[step]
      expect(lines[0]!.value).toBeCloseTo(cents / 100, 6)
      for (const { variety } of walk.varieties) holds(open({ of: 'seed', variety, step }))
    }
  })

  it('every figure of the side by side', () => {
    for (const { variety, cells } of [{ variety: null, cells: review.side.farm }, ...review.side.varieties]) {
      for (const measure of measures) {
        for (const stage of stages) {
          const lines = open({ of: 'side', variety, measure, stage })
          holds(lines)
          const cell = cells[measure][stage]
          const scale = measure === 'seedCents' || measure === 'valueCents' ? 100 : 1
          if (cell === null) continue
          expect(lines[0]!.value, `${variety} ${measure} ${stage}`).toBeCloseTo(cell / scale, 4)
        }
      }
    }
  })

  it('stands, losses, margins and lessons', () => {
    for (const { dealer, lotId } of review.stands) holds(open({ of: 'stand', dealer, lotId }))
    for (const { threat } of review.trouble) holds(open({ of: 'trouble', threat }))
    for (const { variety } of review.margins.varieties) holds(open({ of: 'margin', variety }))
    for (const { lines } of lessonsOf(reckoning, reckoning.record.season)) holds(lines)
  })
})

it('asked about what is not there, says so', () => {
  const reckoning = reckon(randomRecord(3))
  for (const figure of [
    { of: 'money', view: 'field', key: 'Nowhere', what: 'cost' },
    { of: 'side', variety: 'Nobody', measure: 'acres', stage: 'planned' },
    { of: 'trouble', threat: 'Nothing' },
    { of: 'margin', variety: 'Nobody' },
    { of: 'seed', variety: 'Nobody', step: 'paid' },
    { of: 'stand', dealer: 'Nobody', lotId: null },
  ] as const) {
    expect(figureWorking(reckoning, figure)).toMatchObject({ ok: false, problems: [{ code: 'unknown-name' }] })
  }
})
