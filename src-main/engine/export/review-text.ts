/** The season review as plain text, for a terminal or a note. */
import type { MoneyRow } from '../../../src-shared/review/money-rows.ts'
import type { Review } from '../../../src-shared/review/review.ts'
import { walkSteps } from '../../../src-shared/review/seed-walk.ts'
import { measures, stages } from '../../../src-shared/review/side-by-side.ts'
import { showAcres, showCents, showNumber, showWhole } from '../../../src-shared/show.ts'
import { sideNames, stepNames } from '../../../src-shared/review/words.ts'
import { textTable } from './text-table.ts'

const dash = '-'

export function reviewText(review: Review): string {
  const { side, seed, money, margins, trouble } = review
  const cells = measures.map((measure) => [
    sideNames[measure],
    ...stages.map((stage) => {
      const value = side.farm[measure][stage]
      if (value === null) return dash
      return measure === 'seedCents' || measure === 'valueCents' ? showCents(value) : showNumber(value, 1)
    }),
  ])
  const right = [1, 2, 3, 4, 5]
  const parts = [
    `${review.farm}, season ${review.season}`,
    '',
    textTable(['', ...stages.map((stage) => stage.charAt(0).toUpperCase() + stage.slice(1))], cells, right),
  ]
  if (seed !== null) {
    const rows = [
      ['planned', showCents(seed.plannedCents)],
      ...walkSteps.map((step) => [stepNames[step], signed(seed.steps[step])]),
      ['paid, credits taken off', showCents(seed.paidCents)],
    ]
    parts.push(textTable(['Seed cost', ''], rows, [1]))
  }
  for (const view of ['field', 'variety', 'dealer', 'lot'] as const) {
    const { rows, total } = money[view]
    if (rows.length === 0) continue
    const heads = [`By ${view}`, 'Acres', 'Cost', 'Cost/acre', 'Tons', 'Cost/ton', 'Value', 'Left']
    parts.push(textTable(heads, [...rows, total].map(moneyCells), [1, 2, 3, 4, 5, 6, 7]))
  }
  const told = trouble.filter((each) => each.told !== null)
  if (told.length > 0) {
    const rows = told.map((each) => [
      each.threat,
      `${each.told?.fields ?? 0}`,
      showCents(each.told?.expectedCents ?? 0),
      showCents(each.told?.seenCents ?? 0),
      `${each.silent}`,
    ])
    parts.push(textTable(['Threat', 'Fields told of', 'Expected there', 'Seen', 'Without a word'], rows, [1, 2, 3, 4]))
  }
  if (margins.varieties.length > 0) {
    const rows = margins.varieties.map(({ variety, spread }) => [
      variety,
      `${spread.count}`,
      showCents(spread.mean),
      spread.low === null || spread.high === null
        ? 'one field'
        : `${showCents(spread.low)} to ${showCents(spread.high)}`,
    ])
    parts.push(textTable(['Left an acre', 'Fields', 'Mean', '95 % of such means'], rows, [1, 2, 3]))
  }
  return `${[...parts, ...review.notes, ...review.cautions].join('\n')}\n`
}

function moneyCells(row: MoneyRow): string[] {
  const per = (by: number | null) => (by === null || by <= 0 ? dash : showCents(row.costCents / by))
  return [
    row.label,
    row.acres === null ? dash : showAcres(row.acres),
    showCents(row.costCents),
    per(row.acres),
    row.tons === null ? dash : showWhole(row.tons),
    per(row.tons),
    row.valueCents === null ? dash : showCents(row.valueCents),
    row.marginCents === null ? dash : showCents(row.marginCents),
  ]
}

const signed = (cents: number) => (cents > 0 ? `+${showCents(cents)}` : showCents(cents))
