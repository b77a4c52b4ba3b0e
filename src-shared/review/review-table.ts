/** The review as tables of plain cells, for files: unrounded, money in dollars. */
import { varianceParts } from '../agronomy/seed-variance.ts'
import { costParts } from './bill.ts'
import type { MoneyRow, MoneyTable } from './money-rows.ts'
import type { Review } from './review.ts'
import { walkSteps } from './seed-walk.ts'
import { measures, stages, type SideMeasure } from './side-by-side.ts'

export const reviewTables = [
  'side by side',
  'seed cost',
  'by field',
  'by variety',
  'by dealer',
  'by lot',
  'stands',
  'threats',
  'threats by field',
  'margins',
  'pairs',
  'assumed',
] as const
export type ReviewTableName = (typeof reviewTables)[number]

export interface ReviewTable {
  name: ReviewTableName
  headers: string[]
  rows: (string | number | null)[][]
}

const dollars = (cents: number | null) => (cents === null ? null : cents / 100)

/** Money in a table is in dollars, all else as it is. */
const scaled = (measure: SideMeasure, value: number | null) =>
  measure === 'seedCents' || measure === 'valueCents' ? dollars(value) : value

const measureNames: Record<SideMeasure, string> = {
  acres: 'acres',
  packs: 'packs',
  pounds: 'lb of seed',
  seedCents: 'seed cost $',
  tons: 'tons',
  valueCents: 'value $',
}

export function reviewTable(review: Review, name: ReviewTableName): ReviewTable {
  switch (name) {
    case 'side by side':
      return {
        name,
        headers: ['Variety', 'Of', ...stages],
        rows: [{ variety: 'whole farm', cells: review.side.farm }, ...review.side.varieties].flatMap(
          ({ variety, cells }) =>
            measures.map((measure) => [
              variety,
              measureNames[measure],
              ...stages.map((stage) => scaled(measure, cells[measure][stage])),
            ]),
        ),
      }
    case 'seed cost':
      return seedTable(review)
    case 'by field':
      return moneyTable(name, review.money.field, 'Field')
    case 'by variety':
      return moneyTable(name, review.money.variety, 'Variety')
    case 'by dealer':
      return moneyTable(name, review.money.dealer, 'Dealer')
    case 'by lot':
      return moneyTable(name, review.money.lot, 'Lot')
    case 'stands':
      return {
        name,
        headers: [
          'Dealer',
          'Lot',
          'lb came',
          'Germination promised',
          'Germination found',
          'From',
          'Counts',
          'Stand promised, plants/ft',
          'Stand found, plants/ft',
        ],
        rows: review.stands.map((row) => [
          row.dealer,
          row.lotId === null ? 'all' : row.label,
          row.pounds,
          row.promisedGermination,
          row.foundGermination,
          row.from,
          row.counts,
          row.promisedStand,
          row.foundStand,
        ]),
      }
    case 'threats':
      return {
        name,
        headers: [
          'Threat',
          'Expected $',
          'low $',
          'high $',
          'Fields told of',
          'Expected there $',
          'Seen there $',
          'Seen, not measured',
          'Fields without a word',
        ],
        rows: review.trouble.map((each) => [
          each.threat,
          dollars(each.expectedCents),
          dollars(each.lowCents),
          dollars(each.highCents),
          each.told?.fields ?? 0,
          dollars(each.told?.expectedCents ?? null),
          dollars(each.told?.seenCents ?? null),
          each.unmeasured,
          each.silent,
        ]),
      }
    case 'threats by field':
      return {
        name,
        headers: ['Threat', 'Field', 'Acres', 'Expected $', 'low $', 'high $', 'Level seen', 'Seen $'],
        rows: review.trouble.flatMap(({ threat, fields }) =>
          fields.map((each) => [
            threat,
            each.field,
            each.acres,
            dollars(each.expectedCents),
            dollars(each.lowCents),
            dollars(each.highCents),
            each.seen?.level ?? null,
            dollars(each.seenCents),
          ]),
        ),
      }
    case 'margins':
      return {
        name,
        headers: ['Variety', 'Fields', 'Mean left $/acre', '95 % from', '95 % to', 'Deviation of a field $/acre'],
        rows: review.margins.varieties.map(({ variety, spread }) => [
          variety,
          spread.count,
          spread.mean / 100,
          dollars(spread.low),
          dollars(spread.high),
          dollars(spread.deviation),
        ]),
      }
    case 'pairs':
      return {
        name,
        headers: ['Variety', 'Against', 'Difference $/acre', '95 % from', '95 % to', 'Told apart'],
        rows: review.margins.pairs.map(({ better, other, difference }) => [
          better,
          other,
          dollars(difference?.difference ?? null),
          dollars(difference?.low ?? null),
          dollars(difference?.high ?? null),
          difference === null ? 'one field tells nothing' : difference.isToldApart ? 'yes' : 'no',
        ]),
      }
    case 'assumed':
      return {
        name,
        headers: ['Row of the book', 'Bears on', 'Value', 'Unit', 'How it is known', 'Source'],
        rows: review.assumed.map((row) => [row.key, row.says, row.value, row.unit, row.sourceKind, row.source]),
      }
  }
}

function seedTable({ seed }: Review): ReviewTable {
  const headers = ['Variety', 'Planned $', ...walkSteps.map((step) => `${step} $`), 'Paid $']
  if (seed === null) return { name: 'seed cost', headers, rows: [] }
  const rows = seed.varieties.map((each) => [
    each.variety,
    dollars(each.plannedCents),
    ...varianceParts.map((part) => dollars(each.parts[part])),
    null,
    null,
    dollars(each.actualCents),
  ])
  const total = [
    'all, fees and loose bills included',
    dollars(seed.plannedCents),
    ...walkSteps.map((step) => dollars(seed.steps[step])),
    dollars(seed.paidCents),
  ]
  return { name: 'seed cost', headers, rows: [...rows, total] }
}

function moneyTable(name: ReviewTableName, table: MoneyTable, head: string): ReviewTable {
  const per = (row: MoneyRow, by: number | null) =>
    by === null || by <= 0 || row.costCents === 0 ? null : row.costCents / 100 / by
  return {
    name,
    headers: [
      head,
      'Acres',
      ...costParts.map((part) => `${part} $`),
      'Cost $',
      'Tons',
      'Value $',
      'Tons without a price',
      'Left $',
      'Cost $/acre',
      'Cost $/ton',
    ],
    rows: [...table.rows, table.total].map((row) => [
      row.label,
      row.acres,
      ...costParts.map((part) => row.costs[part] / 100),
      row.costCents / 100,
      row.tons,
      dollars(row.valueCents),
      row.unpricedTons,
      dollars(row.marginCents),
      per(row, row.acres),
      per(row, row.tons),
    ]),
  }
}
