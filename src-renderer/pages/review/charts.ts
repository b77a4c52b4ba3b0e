/** The review's pictures as rows of a chart. Pure. */
import type { Review } from '../../../src-shared/review/review.ts'
import { walkSteps, type SeedWalk } from '../../../src-shared/review/seed-walk.ts'
import type { Trouble } from '../../../src-shared/review/trouble.ts'
import { stepNames } from '../../../src-shared/review/words.ts'
import { showCount, showDollarChange, showDollars } from '../../../src-shared/show.ts'
import type { ChartRow } from '../../charts/chart-row.ts'

/** Hatches of the pictures: what stands, what is dearer, what is cheaper. */
export const fills = { whole: 5, dearer: 1, cheaper: 2 } as const

export const inDollars = (cents: number) => showDollars(cents)

/**
 * [cent] Where the waterfall's axis begins: at nothing, or nearer where the steps are small beside the whole; a place on it is
 * a sum, not a length.
 */
export function waterfallBase(walk: SeedWalk): number {
  let at = walk.plannedCents
  const places = [at, ...walkSteps.map((step) => (at += walk.steps[step]))]
  const [least, most] = [Math.min(...places), Math.max(...places)]
  if (most <= 0 || most - least > least / 4) return Math.min(0, least)
  // On a round place, so that the bars of the whole begin where the axis does.
  const step = 10 ** Math.floor(Math.log10(Math.max(most - least, 1)))
  return Math.max(0, Math.floor((least - (most - least) / 2) / step) * step)
}

/** From planned to paid: each step begins where the one before ended. */
export function waterfallRows(walk: SeedWalk): ChartRow[] {
  const base = waterfallBase(walk)
  let at = walk.plannedCents
  const steps = walkSteps
    .filter((step) => walk.steps[step] !== 0)
    .map((step): ChartRow => {
      const from = at
      at += walk.steps[step]
      const fill = at > from ? fills.dearer : fills.cheaper
      const text = showDollarChange(walk.steps[step]) || '$0'
      return { label: stepNames[step], bars: [{ from, to: at, fill }], text, leadsAt: at }
    })
  const whole = (label: string, cents: number): ChartRow => ({
    label,
    bars: [{ from: base, to: cents, fill: fills.whole }],
    text: showDollars(cents),
    leadsAt: cents,
  })
  return [whole('planned', walk.plannedCents), ...steps, whole('paid', walk.paidCents)]
}

function waterfallWords(walk: SeedWalk): string {
  const steps = walkSteps
    .filter((step) => walk.steps[step] !== 0)
    .map((step) => `${stepNames[step]} ${showDollarChange(walk.steps[step]) || '$0'}`)
  return `Seed cost from ${showDollars(walk.plannedCents)} planned to ${showDollars(walk.paidCents)} paid: ${steps.join(', ') || 'no step'}.`
}

/** Expected above, seen below, on the fields that were told of; threats without a word stay out. */
export function troubleRows(trouble: readonly Trouble[]): ChartRow[] {
  return trouble.flatMap(({ threat, told, fields }): ChartRow[] => {
    if (told === null) return []
    const spoken = fields.filter(({ seenCents }) => seenCents !== null)
    const sum = (of: (each: (typeof spoken)[number]) => number) => spoken.reduce((all, each) => all + of(each), 0)
    return [
      {
        label: threat,
        bars: [
          {
            from: 0,
            to: told.expectedCents,
            fill: fills.whole,
            low: sum(({ lowCents }) => lowCents),
            high: sum(({ highCents }) => highCents),
          },
          { from: 0, to: told.seenCents, fill: fills.dearer },
        ],
        text: `${showDollars(told.expectedCents)} · ${showDollars(told.seenCents)}`,
      },
    ]
  })
}

export function marginRows({ margins }: Review): ChartRow[] {
  return margins.varieties.map(({ variety, fields, spread }) => ({
    label: variety,
    dots: fields.map(({ perAcre }) => perAcre),
    mean: { value: spread.mean, low: spread.low, high: spread.high },
    text: `${showDollars(spread.mean)}/ac`,
  }))
}

/** A picture with all that is said of it, on screen and on paper alike. */
export interface Picture {
  rows: ChartRow[]
  says: string
  fromZero: boolean
  legend: [fill: number, says: string][]
  note?: string
}

export function waterfallPicture(walk: SeedWalk): Picture {
  const isCut = waterfallBase(walk) > 0
  return {
    rows: waterfallRows(walk),
    says: waterfallWords(walk),
    fromZero: !isCut,
    legend: [
      [fills.dearer, 'dearer than planned'],
      [fills.cheaper, 'cheaper'],
    ],
    note: isCut ? 'The axis does not begin at nothing.' : undefined,
  }
}

/** Null where nobody has said what anything took. */
export function troublePicture(trouble: readonly Trouble[]): Picture | null {
  const rows = troubleRows(trouble)
  if (rows.length === 0) return null
  return {
    rows,
    says: `Loss expected and seen by threat, on the fields that were told of: ${rows.map(({ label, text }) => `${label} ${text}`).join('; ')}.`,
    fromZero: true,
    legend: [
      [fills.whole, 'expected, with the range of its sources'],
      [fills.dearer, 'seen'],
    ],
  }
}

export function marginPicture(review: Review): Picture {
  const words = review.margins.varieties.map(
    ({ variety, spread }) => `${variety} ${showDollars(spread.mean)} on ${showCount(spread.count, 'field')}`,
  )
  return {
    rows: marginRows(review),
    says: `Left of an acre by variety: ${words.join('; ')}.`,
    fromZero: false,
    legend: [],
    note: 'Circles are fields, the diamond their mean, the line its 95 % interval.',
  }
}
