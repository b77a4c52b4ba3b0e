/**
 * What an acre of a crop brings and costs. The crop that is not made counts against what the ground could make, so that
 * the least total cost and the greatest margin are the same plan: they differ by a constant for each field.
 */
import type { Field, Water } from '../field.ts'
import { yieldIndexOn, type Variety } from '../variety.ts'
import { figure, rowFigure, silent, type Calculation } from './calculation.ts'
import type { Context } from './context.ts'
import { diggingFigure, type Ground } from './crop.ts'
import { mostGain } from './practice-gain.ts'
import { hoursPerAcre } from './harvest.ts'
import { dollarsPerPound } from './price.ts'
import { vineKey } from './vine.ts'
import { vineWorkOf } from './vine-work.ts'

/** [$/lb] What the best variety of the list leaves for each pound of a usual variety's yield, by water; 0 at the least. */
export interface BestValue extends Record<Water, number> {
  /** [$/lb] the most that a pound of any of them leaves. */
  pound: number
}

export function bestValueOf(context: Context): BestValue {
  const { book, price, season } = context
  const best = (water: Water) =>
    Math.max(
      0,
      ...season.varieties.map(
        (variety) => yieldIndexOn(variety, water) * dollarsPerPound(book, price, variety, silent),
      ),
    )
  const pound = Math.max(0, ...season.varieties.map((variety) => dollarsPerPound(book, price, variety, silent)))
  return { irrigated: best('irrigated'), dryland: best('dryland'), pound }
}

/** [cent/acre] each. */
export interface AcreValue {
  /** What the ground could bring with the best variety, at the best date and stand, with nothing lost. */
  could: number
  /** What this crop would bring before diseases, pests and digging. */
  crop: number
  /** could − crop − what practices add; 0 where the house leaves yield out. */
  giveUp: number
}

/** What the ground could bring: attainable yield and rotation at what the best variety leaves a pound. [cent/acre] */
export function couldCents(
  context: Context,
  best: BestValue,
  ground: Ground,
  field: Field,
  calculation: Calculation = silent,
): number {
  const lb = calculation.line(
    'product',
    [figure(ground.attainableLb, 'what the ground could make', 'lb/acre'), figure(ground.rotation, 'rotation', '×')],
    () => ({ id: 'could lb', label: 'What the ground could make in this rotation', unit: 'lb/acre' }),
  )
  const crop = calculation.line(
    'product',
    [
      figure(lb, 'in this rotation', 'lb/acre'),
      figure(best[field.water], 'what the best variety leaves a pound', '$/lb'),
    ],
    () => ({ id: 'could crop', label: 'What its crop could bring', unit: '$/acre' }),
  )
  const gains = calculation.line(
    'product',
    [
      figure(mostGain(field, context.season.measures), 'most that practices add', 'lb/acre'),
      figure(best.pound, 'the best price of a pound', '$/lb'),
    ],
    () => ({ id: 'could gains', label: 'What practices could add', unit: '$/acre' }),
  )
  return (
    calculation.line(
      'sum',
      [figure(crop, 'what its crop could bring', '$/acre'), figure(gains, 'what practices could add', '$/acre')],
      () => ({ id: 'could dollars', label: 'What the ground could bring', unit: '$/acre' }),
    ) * 100
  )
}

/** @param beforeLb [lb/acre] before diseases, pests and digging @param gainLb [lb/acre] that practices add */
export function acreValue(
  context: Context,
  best: BestValue,
  ground: Ground,
  field: Field,
  variety: Variety,
  beforeLb: number,
  gainLb: number,
  calculation: Calculation = silent,
): AcreValue {
  const perPound = dollarsPerPound(context.book, context.price, variety, calculation)
  const crop = calculation.line(
    'product',
    [
      figure(beforeLb, 'yield before diseases, pests and digging', 'lb/acre'),
      figure(perPound, 'what a pound leaves', '$/lb'),
    ],
    () => ({ id: 'crop dollars', label: 'What the crop would bring', unit: '$/acre' }),
  )
  const could = couldCents(context, best, ground, field, calculation)
  const withGain = calculation.line(
    'sum',
    [figure(crop, 'what the crop would bring', '$/acre'), figure(gainLb * perPound, 'what practices add', '$/acre')],
    () => ({ id: 'crop with gains', label: 'With what practices add', unit: '$/acre' }),
  )
  const giveUp = calculation.line(
    'shortfall',
    [
      figure(could / 100, 'what the ground could bring', '$/acre'),
      figure(withGain, 'what the crop and the practices bring', '$/acre'),
      figure(context.countsYield ? 1 : 0, context.countsYield ? 'yield counts' : 'your rules leave yield out', ''),
    ],
    () => ({ id: 'give-up', label: 'Yield given up to variety, stand and date', unit: '$/acre' }),
  )
  return { could, crop: crop * 100, giveUp: giveUp * 100 }
}

/**
 * `acreValue` of one variety on one field, for many yields: a season asks it of every planting week and seeding rate, so what
 * is the same for all of them is worked out once. A test holds the two together.
 * @returns of a yield [lb/acre] before diseases, pests and digging, and without what practices add
 */
export function acreValueOn(
  context: Context,
  best: BestValue,
  ground: Ground,
  field: Field,
  variety: Variety,
): (beforeLb: number) => AcreValue {
  const perPound = dollarsPerPound(context.book, context.price, variety, silent)
  const could = couldCents(context, best, ground, field)
  const counts = context.countsYield ? 1 : 0
  return (beforeLb) => {
    const crop = beforeLb * perPound
    return { could, crop: crop * 100, giveUp: Math.max(0, could / 100 - crop) * counts * 100 }
  }
}

/**
 * What the vine costs beside cash: pods left in the ground, slower machines, less what a regulator gains.
 * @param crop [cent/acre] before diseases, pests and digging @param lossShare [share of yield] to diseases and pests
 * @returns [cent/acre]
 */
export function vineCents(
  context: Context,
  field: Field,
  variety: Variety,
  crop: number,
  lossShare: number,
  calculation: Calculation = silent,
): number {
  const left = calculation.line(
    'product',
    [
      figure(crop / 100, 'what the crop would bring', '$/acre'),
      figure(1 - lossShare, 'left by diseases and pests', 'share'),
      diggingFigure(context, variety.vine, field),
    ],
    () => ({ id: 'vine/left in the ground', label: 'Pods left in the ground', unit: '$/acre' }),
  )
  const { digger, combine, gain } = vineDollars(context, field, variety, calculation)
  return (
    calculation.line(
      'sum',
      [
        figure(left, 'pods left in the ground', '$/acre'),
        figure(digger, 'slower digger', '$/acre'),
        figure(combine, 'slower combine', '$/acre'),
        figure(gain, 'gain by a growth regulator', '$/acre'),
      ],
      () => ({ id: 'vine', label: 'What the vine costs', unit: '$/acre' }),
    ) * 100
  )
}

/** What the vine costs whatever is left in the ground. [$/acre] each; a gain is less than 0. */
function vineDollars(context: Context, field: Field, variety: Variety, calculation: Calculation) {
  const vine = context.vine[variety.vine][field.growth]
  const work = vineWorkOf(context, vine, variety)
  const slower = (kind: 'digger' | 'combine') =>
    vine.slowing === 0
      ? 0
      : calculation.line(
          'extra hours',
          [
            figure(
              hoursPerAcre(context.season.machines, kind, vine.slowing),
              'hours with this vine',
              'machine-hour/acre',
            ),
            figure(hoursPerAcre(context.season.machines, kind, 0), 'hours without', 'machine-hour/acre'),
            rowFigure(context.book, `harvest/${kind} hour`, `an hour of the ${kind}`, context.hourDollars[kind]),
          ],
          () => ({ id: `vine/slower ${kind}`, label: `Slower ${kind}`, unit: '$/acre' }),
        )
  const digger = slower('digger')
  const combine = slower('combine')
  const gain =
    work.gainLb === 0
      ? 0
      : calculation.line(
          'product',
          [
            rowFigure(context.book, 'vine/growth regulator/yield gain', 'yield that the regulator gains', work.gainLb),
            figure(dollarsPerPound(context.book, context.price, variety, silent), 'what a pound leaves', '$/lb'),
            figure(-1, 'a gain counts against the cost', ''),
          ],
          () => ({ id: 'vine/growth regulator', label: 'Gain by the growth regulator', unit: '$/acre' }),
        )
  return { digger, combine, gain }
}

/** What the vine of a crop costs. [cent/acre] Linear in what diseases and pests leave of it, so that two values give all. */
export interface VineCost {
  /** With nothing lost to diseases and pests. */
  whole: number
  /** With all of it lost. */
  none: number
}

/** `vineCents` of one variety on one field, for many crops. @returns of what a crop would bring [cent/acre] */
export function vineCostOn(context: Context, field: Field, variety: Variety): (crop: number) => VineCost {
  const { digLoss } = context.vine[variety.vine][field.growth]
  // Without a crop there is nothing to leave in the ground: machines and regulator are left.
  const { digger, combine, gain } = vineDollars(context, field, variety, silent)
  const none = (digger + combine + gain) * 100
  return (crop) => ({ whole: ((crop / 100) * digLoss + digger + combine + gain) * 100, none })
}

/** Row of the assumptions that a vine's paid work stands in. */
export function vineCostKey(variety: Variety, field: Field): string {
  return vineKey(variety.vine, field.growth, 'cost')
}

/** [cent/acre] What every planted acre costs whatever the choice: digging and combining at the usual pace, and all else. */
export function plantedCents(context: Context): number {
  const { season, hourDollars, elseDollars } = context
  return (['digger', 'combine'] as const).reduce(
    (sum, kind) => sum + hoursPerAcre(season.machines, kind, 0) * hourDollars[kind] * 100,
    elseDollars * 100,
  )
}
