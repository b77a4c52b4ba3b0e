/**
 * The crop of one acre: what a field, variety, planting date, stand and spray program are expected to make. The plan, other
 * years, spring, replanting, the review and lessons all ask here; no other file works out a yield. Long because it is one
 * formula with each factor beside it.
 *
 * yield = attainable × variety × stand × date × rotation × (1 − diseases and pests) × (1 − digging loss)
 */
import type { Range } from '../assumption.ts'
import { isPeanut } from '../crop.ts'
import { yearsOut, type Field, type PressureLevel } from '../field.ts'
import { yieldIndexOn, type Variety } from '../variety.ts'
import type { WindowKind } from '../window.ts'
import { figure, rowFigure, silent, type Calculation, type Figure } from './calculation.ts'
import type { Context } from './context.ts'
import { middleOf } from './harvest.ts'
import { levelsOf } from './levels.ts'
import { dateShare } from './planting-date.ts'
import { practiceLosses, usualControlFigure } from './practice-losses.ts'
import { rotationShare } from './rotation.ts'
import { standOf } from './seed.ts'
import { plannedStandShare, standShare } from './stand-yield.ts'
import { combineLosses, shareBefore, type End } from './threat.ts'
import { vineKey } from './vine.ts'
import { vineWorkOf } from './vine-work.ts'

/** What a field has for every variety: its pressures and what it could make. */
export interface Ground {
  /** By disease or pest, in the order of the season's. */
  levels: PressureLevel[]
  /** Whole seasons; without a history as in the usual rotation. */
  yearsOut: number
  /** [lb/acre] at a yield index of 1 with nothing taken off. */
  attainableLb: number
  /** [× two years out] */
  rotation: number
}

/** How an acre is grown. */
export interface Growing {
  field: Field
  variety: Variety
  window: WindowKind
  /** ISO date */
  planted: string
  /** [plants/ft of row position] */
  stand: number
  /** [share] of the best date, where it was worked out before: it is the same on every field. */
  date?: number
  /** [share] of full yield that the planned stand leaves, where it was worked out before: so is that. */
  standShare?: number
  /** [lb/acre] that practices add; absent: none. */
  gainLb?: number
  /** A stand that was counted makes its own point of the curve; a planned one the mean about it. */
  isCounted?: boolean
}

/** One acre's crop. */
export interface Crop {
  /** [lb/acre] before diseases, pests and digging. */
  beforeLb: number
  /** [share of yield] by disease or pest, in the order of the season's. */
  losses: number[]
  /** [share of yield] all of them together. */
  lossShare: number
  /** [share of yield] left in the ground. */
  diggingShare: number
  /** [lb/acre] */
  lb: number
}

/** [share] The least that a usual factor can be: an assumption that leaves next to nothing is a slip, not a goal. */
const leastShare = 0.05

/** [year] Since peanut on a field. A history without peanut says only that it was no later: a short one is as none. */
export function yearsOutOn({ season, usual }: Context, { history }: Field): number {
  const known = yearsOut(history, season.season) ?? usual.yearsOut
  const isOpen = !history.some(({ crop }) => isPeanut(crop))
  return isOpen ? Math.max(known, usual.yearsOut) : known
}

/** What is the same for every variety on a field. */
export function groundFor(context: Context, field: Field, calculation: Calculation = silent): Ground {
  const levels = levelsOf(context, field)
  const out = yearsOutOn(context, field)
  return {
    levels,
    yearsOut: out,
    attainableLb: context.season.attainable?.get(field.name) ?? attainableLb(context, field, levels, calculation),
    rotation: rotationShare(context, field.water, out, calculation),
  }
}

/**
 * What the ground could make: the yield goal with everything taken out that the goal already contains, so that the usual
 * choice makes the goal again to the pound.
 * @returns [lb/acre] ≥ the goal, or nearly
 */
export function attainableLb(
  context: Context,
  field: Field,
  levels: readonly PressureLevel[],
  calculation: Calculation,
): number {
  const { book, usual } = context
  const part = calculation.partOf('usual choice')
  const stand = usualStand(context, field)
  const shareOfStand = plannedStandShare(book, context.standCurve, field.rowPattern, stand, part)
  const date =
    usual.window === null
      ? 1
      : dateShare(book, context.dateCurve, middleOf(usual.window, context.season.season), usual.daysToMaturity, part)
  const rotation = rotationShare(context, field.water, usual.yearsOut, part)
  const shares = context.threats.map((table, t) =>
    shareBefore(
      book,
      table,
      {
        ...groundCase(context, field, levels, t),
        rating: usual.ratings[table.name] ?? usual.rating,
        rated: () => (usual.variety === null ? 'a usual variety' : `rating of ${usual.variety}`),
        window: 'usual',
        yearsOut: usual.yearsOut,
        stand,
        vine: table.isLeaf ? context.vine[usual.vine][field.growth].leafSpot : 1,
        vineKey: vineKey(usual.vine, field.growth, 'leaf disease'),
      },
      part,
    ),
  )
  const losses = practiceLosses(
    context,
    shares,
    context.threats.map((table) => [usualControlFigure(book, table)]),
    part,
  )
  const left = part.line(
    'left',
    [figure(combineLosses(losses), 'diseases and pests', 'share of yield'), diggingFigure(context, usual.vine, field)],
    () => ({ id: 'left', label: 'Left by diseases, pests and digging', unit: 'share of yield' }),
  )
  calculation.add(part)
  return calculation.line(
    'over',
    [
      figure(field.yieldGoalLb, () => `yield goal of ${field.name}`, 'lb/acre'),
      figure(usual.yieldIndex[field.water], 'yield index of the usual variety', '×'),
      figure(Math.max(leastShare, shareOfStand), 'usual stand', 'share'),
      figure(Math.max(leastShare, date), 'usual planting date', 'share'),
      figure(Math.max(leastShare, rotation), 'usual rotation', '×'),
      figure(Math.max(leastShare, left), 'left by diseases, pests and digging', 'share'),
    ],
    () => ({ id: 'attainable', label: 'What the ground could make', unit: 'lb/acre' }),
  )
}

/** [plants/ft] of the usual seeding rate and germination. */
function usualStand(context: Context, field: Field): number {
  const { usual, emergence, houseDrop } = context
  return standOf(houseDrop[field.rowPattern], usual.germination, emergence[field.rowPattern])
}

/**
 * Yield before diseases, pests and digging.
 * @param end of the yield's range: `low` takes the low stand curve and the high loss a day
 * @returns [lb/acre]
 */
export function yieldBefore(
  context: Context,
  ground: Ground,
  at: Growing,
  calculation: Calculation,
  end: End = 'usual',
): number {
  const { book, standCurve } = context
  const { field, variety } = at
  const stand =
    at.standShare ??
    (at.isCounted
      ? standShare(standCurve, field.rowPattern, at.stand, end)
      : plannedStandShare(book, standCurve, field.rowPattern, at.stand, calculation, end))
  const date = at.date ?? dateShareOf(context, at.planted, variety, calculation, end)
  return calculation.line(
    'product',
    [
      figure(ground.attainableLb, 'what the ground could make', 'lb/acre'),
      figure(yieldIndexOn(variety, field.water), () => `yield index of ${variety.name}`, '×'),
      figure(stand, 'stand', 'share'),
      figure(date, 'planting date', 'share'),
      figure(ground.rotation, 'rotation', '×'),
    ],
    () => ({ id: 'yield before', label: 'Yield before diseases, pests and digging', unit: 'lb/acre' }),
  )
}

/** [share] of the best planting date's yield. */
export function dateShareOf(
  context: Context,
  planted: string,
  variety: Variety,
  calculation: Calculation = silent,
  end: End = 'usual',
): number {
  return dateShare(context.book, context.dateCurve, planted, variety.daysToMaturity, calculation, end)
}

/** What each disease and pest would take without practices, in the order of the season's. */
export function sharesOn(
  context: Context,
  ground: Ground,
  at: Growing,
  calculation: Calculation,
  end: End = 'usual',
  /** The same at another stand: what the stand does not bear on is taken from it. */
  atOtherStand?: readonly number[],
): number[] {
  const { field, variety } = at
  return context.threats.map((table, t) => {
    if (atOtherStand !== undefined && table.perMissingPlant[field.rowPattern] === 0) return atOtherStand[t] as number
    const rating = variety.ratings[table.name]
    return shareBefore(
      context.book,
      table,
      {
        ...groundCase(context, field, ground.levels, t),
        rating: rating ?? context.hard.unrated,
        rated: () =>
          rating === undefined
            ? `${variety.name} is not rated: taken as ${context.hard.unrated}`
            : `${variety.name} rated ${rating}`,
        window: at.window,
        yearsOut: ground.yearsOut,
        stand: at.stand,
        vine: table.isLeaf ? context.vine[variety.vine][field.growth].leafSpot : 1,
        vineKey: vineKey(variety.vine, field.growth, 'leaf disease'),
      },
      calculation,
      end,
    )
  })
}

function groundCase(context: Context, field: Field, levels: readonly PressureLevel[], threat: number) {
  return {
    level: levels[threat] ?? 'none',
    rows: field.rowPattern,
    water: field.water,
    tillage: field.tillage,
  }
}

export function diggingFigure(context: Context, vine: Variety['vine'], field: Field): Figure {
  return rowFigure(
    context.book,
    vineKey(vine, field.growth, 'digging loss'),
    () => `a ${vine} vine on ${field.growth} ground leaves in the ground`,
    context.vine[vine][field.growth].digLoss,
  )
}

/**
 * The crop of one acre.
 * @param left by disease or pest, in the order of the season's: what each practice used leaves of it
 */
export function cropOf(
  context: Context,
  ground: Ground,
  at: Growing,
  left: readonly (readonly Figure[])[],
  calculation: Calculation = silent,
  end: End = 'usual',
): Crop {
  // The low end of a yield goes with the high end of the losses.
  const lossEnd: End = end === 'low' ? 'high' : end === 'high' ? 'low' : 'usual'
  const beforeLb = yieldBefore(context, ground, at, calculation, end)
  const losses = practiceLosses(
    context,
    sharesOn(context, ground, at, calculation, lossEnd),
    left,
    calculation,
    lossEnd,
  )
  const lossShare = calculation.line(
    'together',
    context.threats.map((table, t) => figure(losses[t] as number, table.name, 'share of yield')),
    () => ({ id: 'loss', label: 'Lost to all diseases and pests', unit: 'share of yield' }),
  )
  const digging = diggingFigure(context, at.variety.vine, at.field)
  const grown = calculation.line(
    'product',
    [
      figure(beforeLb, 'yield before', 'lb/acre'),
      figure(1 - lossShare, 'left by diseases and pests', 'share'),
      figure(1 - digging.value, 'left by digging', 'share'),
    ],
    () => ({ id: 'yield left', label: 'Yield that is dug', unit: 'lb/acre' }),
  )
  const { gainLb } = vineWorkOf(context, context.vine[at.variety.vine][at.field.growth], at.variety)
  const lb = calculation.line(
    'sum',
    [
      figure(grown, 'yield that is dug', 'lb/acre'),
      figure(gainLb, 'gain by a growth regulator', 'lb/acre'),
      figure(at.gainLb ?? 0, 'gain by other practices', 'lb/acre'),
    ],
    () => ({ id: 'yield', label: 'Expected yield', unit: 'lb/acre' }),
  )
  return { beforeLb, losses, lossShare, diggingShare: digging.value, lb }
}

/** [lb/acre] The expected yield with the ends of what was found. */
export function cropRange(context: Context, ground: Ground, at: Growing, left: readonly (readonly Figure[])[]): Range {
  const lb = (end: End) => cropOf(context, ground, at, left, silent, end).lb
  return { low: lb('low'), usual: lb('usual'), high: lb('high') }
}
