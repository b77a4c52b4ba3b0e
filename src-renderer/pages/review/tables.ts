/** The review's tables as they are shown, on screen and on paper: words, roundings and the figure behind each cell. Pure. */
import { costParts } from '../../../src-shared/review/bill.ts'
import type { MoneyFigure } from '../../../src-shared/review/figure.ts'
import type { MoneyRow, View } from '../../../src-shared/review/money-rows.ts'
import type { Review } from '../../../src-shared/review/review.ts'
import { measures, stages, type SideMeasure } from '../../../src-shared/review/side-by-side.ts'
import type { StandRow } from '../../../src-shared/review/stand-rows.ts'
import type { Trouble } from '../../../src-shared/review/trouble.ts'
import { partNames, sideNames, stageNames } from '../../../src-shared/review/words.ts'
import { roundTogether } from '../../../src-shared/round-together.ts'
import {
  showAcres,
  showCents,
  showCount,
  showDollars,
  showNumber,
  showPercent,
  showWhole,
} from '../../../src-shared/show.ts'
import { unknown, type FigureCell, type FigureColumn, type FigureRow } from './figure-cells.ts'

export interface Shown {
  columns: FigureColumn[]
  rows: FigureRow[]
}

function sideText(measure: SideMeasure, value: number): string {
  if (measure === 'seedCents' || measure === 'valueCents') return showDollars(value)
  return measure === 'acres' ? showAcres(value) : showWhole(value)
}

/** The whole farm: a row a measure. */
export function farmTable({ side }: Review): Shown {
  return {
    columns: stages.map((stage) => ({ label: stageNames[stage] })),
    rows: measures.map((measure) => ({
      key: measure,
      label: sideNames[measure],
      cells: stages.map((stage) => sideCell(null, side.farm, measure, stage)),
    })),
  }
}

/** A row a variety, of one measure. */
export function varietyTable({ side }: Review, measure: SideMeasure): Shown {
  const together = new Map(stages.map((stage) => [stage, inColumn(side, measure, stage)]))
  const rows = side.varieties.map(({ variety, cells }, at): FigureRow => {
    const key = variety ?? ''
    const cell = (stage: (typeof stages)[number]) =>
      sideCell(variety, cells, measure, stage, together.get(stage)?.[at] ?? null)
    return { key, label: key, cells: stages.map(cell) }
  })
  const cells = stages.map((stage) => sideCell(null, side.farm, measure, stage))
  return {
    columns: stages.map((stage) => ({ label: stageNames[stage] })),
    rows: [...rows, { key: 'all', label: 'All', cells, isTotal: true }],
  }
}

/** The values of a stage as they are shown: whole, and adding up to the farm's where they are its parts. Acres stay exact. */
function inColumn({ varieties, farm }: Review['side'], measure: SideMeasure, stage: (typeof stages)[number]) {
  const values = varieties.map(({ cells }) => cells[measure][stage])
  const scale = measure === 'seedCents' || measure === 'valueCents' ? 100 : 1
  const sum = values.reduce<number>((all, value) => all + (value ?? 0), 0)
  const isWhole = Math.abs(sum - (farm[measure][stage] ?? NaN)) < scale / 2
  if (measure === 'acres' || !isWhole) return values
  const whole = roundTogether(values.map((value) => (value ?? 0) / scale))
  return values.map((value, at) => (value === null ? null : (whole[at] as number) * scale))
}

function sideCell(
  variety: string | null,
  cells: Review['side']['farm'],
  measure: SideMeasure,
  stage: (typeof stages)[number],
  rounded: number | null = null,
): FigureCell {
  const value = rounded ?? cells[measure][stage]
  if (value === null) return { text: unknown, quiet: true }
  return { text: sideText(measure, value), figure: { of: 'side', variety, measure, stage } }
}

/** What each cost and brought. Parts of cost that nobody had are left out. */
export function moneyTable(review: Review, view: View): Shown {
  const { rows, total } = review.money[view]
  const parts = costParts.filter((part) => rows.some((row) => row.costs[part] !== 0))
  const cellsOf = (row: MoneyRow): FigureCell[] => {
    const cell = (what: MoneyFigure, text: string): FigureCell => ({
      text,
      figure: { of: 'money', view, key: row.key, what },
    })
    const none: FigureCell = { text: unknown, quiet: true }
    return [
      row.acres === null ? { ...none, text: row.key === null ? '' : unknown } : { text: showAcres(row.acres) },
      row.tons === null ? none : cell('tons', showNumber(row.tons, 1)),
      cell('cost', showDollars(row.costCents)),
      row.acres !== null && row.acres > 0 ? cell('per acre', showCents(row.costCents / row.acres)) : none,
      // Ground that nobody wrote down as planted bears no cost: what its tons cost is not known.
      row.tons !== null && row.tons > 0 && row.costCents !== 0
        ? cell('per ton', showCents(row.costCents / row.tons))
        : none,
      row.valueCents === null ? none : { ...cell('value', showDollars(row.valueCents)), heed: row.unpricedTons > 0 },
      row.marginCents === null ? none : { ...cell('margin', showDollars(row.marginCents)), heed: row.marginCents < 0 },
      ...parts.map((part) => (row.costs[part] === 0 ? { text: '' } : cell(part, showDollars(row.costs[part])))),
    ]
  }
  return {
    columns: [
      ...['Acres', 'Tons', 'Cost', '$/acre', '$/ton', 'Value', 'Left'].map((label) => ({ label })),
      ...parts.map((part) => ({ label: partNames[part] })),
    ],
    rows: [
      ...rows.map((row) => ({ key: row.key ?? ' ', label: row.label, cells: cellsOf(row) })),
      { key: 'all', label: 'All', cells: cellsOf(total), isTotal: true },
    ],
  }
}

export function standTable(stands: readonly StandRow[]): Shown {
  const share = (value: number | null) => (value === null ? unknown : showPercent(value))
  const plants = (value: number | null) => (value === null ? unknown : showNumber(value, 2))
  return {
    columns: [
      { label: 'lb' },
      { label: 'Germination promised' },
      { label: 'found' },
      { label: 'by', isWords: true },
      { label: 'Counts' },
      { label: 'Stand promised, plants/ft' },
      { label: 'found' },
    ],
    rows: stands.map((row) => {
      const figure = { of: 'stand', dealer: row.dealer, lotId: row.lotId } as const
      const isLow = row.foundGermination !== null && row.foundGermination < row.promisedGermination - 0.005
      const isThin = row.foundStand !== null && row.promisedStand !== null && row.foundStand < row.promisedStand - 0.005
      return {
        key: `${row.dealer} ${row.lotId ?? ''}`,
        label: row.label,
        isPart: row.lotId !== null,
        cells: [
          { text: showWhole(row.pounds) },
          { text: share(row.promisedGermination) },
          { text: share(row.foundGermination), figure, heed: isLow },
          { text: row.from, quiet: true },
          { text: row.counts === 0 ? '' : showWhole(row.counts) },
          { text: plants(row.promisedStand) },
          row.foundStand === null
            ? { text: unknown, quiet: true }
            : { text: plants(row.foundStand), figure, heed: isThin },
        ],
      }
    }),
  }
}

export function troubleTable(trouble: readonly Trouble[]): Shown {
  return {
    columns: [
      { label: 'Expected, all planted fields' },
      { label: 'with its range', isWords: true },
      { label: 'Fields told of' },
      { label: 'Expected there' },
      { label: 'Seen there' },
      { label: 'Seen, not measured' },
      { label: 'Without a word' },
    ],
    rows: trouble.map((each) => {
      const figure = { of: 'trouble', threat: each.threat } as const
      const isWorse = each.told !== null && each.told.seenCents > each.told.expectedCents
      return {
        key: each.threat,
        label: each.threat.charAt(0).toUpperCase() + each.threat.slice(1),
        cells: [
          { text: showDollars(each.expectedCents), figure },
          {
            text:
              each.highCents > each.lowCents ? `${showDollars(each.lowCents)} to ${showDollars(each.highCents)}` : '',
            quiet: true,
          },
          { text: each.told === null ? 'none' : showWhole(each.told.fields) },
          { text: each.told === null ? unknown : showDollars(each.told.expectedCents) },
          each.told === null
            ? { text: unknown, quiet: true }
            : { text: showDollars(each.told.seenCents), figure, heed: isWorse },
          { text: each.unmeasured === 0 ? '' : showWhole(each.unmeasured) },
          { text: each.silent === 0 ? '' : showCount(each.silent, 'field') },
        ],
      }
    }),
  }
}

export function marginTable({ margins }: Review): Shown {
  return {
    columns: [{ label: 'Fields' }, { label: 'Left an acre, mean' }, { label: '95 % interval', isWords: true }],
    rows: margins.varieties.map(({ variety, fields, spread }) => ({
      key: variety,
      label: variety,
      note:
        fields
          .map(({ field }) => field)
          .slice(0, 4)
          .join(', ') + (fields.length > 4 ? ', …' : ''),
      cells: [
        { text: showWhole(spread.count) },
        { text: showCents(spread.mean), figure: { of: 'margin', variety } },
        spread.low === null || spread.high === null
          ? { text: 'one field tells nothing of the next', quiet: true }
          : { text: `${showDollars(spread.low)} to ${showDollars(spread.high)}` },
      ],
    })),
  }
}

/** Pairs in words. */
export function pairWords({ margins }: Review): { key: string; says: string; isToldApart: boolean }[] {
  return margins.pairs.map(({ better, other, difference }) => {
    const key = `${better}/${other}`
    if (difference === null) {
      return { key, says: `${better} and ${other}: one of them stood on a single field.`, isToldApart: false }
    }
    const by = `${showDollars(difference.low)} to ${showDollars(difference.high)}`
    return difference.isToldApart
      ? { key, says: `${better} left more than ${other}: by ${by} an acre.`, isToldApart: true }
      : {
          key,
          says: `${better} and ${other} cannot be told apart: the difference is ${by} an acre.`,
          isToldApart: false,
        }
  })
}
