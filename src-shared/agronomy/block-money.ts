/**
 * What one planted block costs and loses under given circumstances, also where the house would no longer allow it
 * or another programme would be better: a plan that stands is judged, not chosen. Same arithmetic as the options.
 */
import type { Range } from '../assumption.ts'
import type { PlanBlock } from '../plan.ts'
import type { Context } from './context.ts'
import { dropFor, type DropFor } from './drop.ts'
import { caseOf, levelsOf } from './ground.ts'
import { yearsOut, type Field } from '../field.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import { expectedYield } from './context.ts'
import { giveUpCents, vineCents } from './option.ts'
import { standOf } from './seed.ts'
import { combineLosses, lossRange } from './threat.ts'

/** [cent/acre] each; loss as low ≤ usual ≤ high. */
export interface AcreMoney {
  /** What the crop brings before any loss: yield × price × the variety's yield and grade. */
  crop: number
  /** Measures and vine work, without seed. */
  cash: number
  loss: { low: number; usual: number; high: number }
  vine: number
  giveUp: number
}

export interface BlockAt {
  field: Field
  variety: Variety
  window: PlantingWindow
}

/** The things that a block names, as this season has them; undefined where one of them is gone. */
export function placeOf(context: Context, block: Pick<PlanBlock, 'field' | 'variety' | 'window'>): BlockAt | undefined {
  const { fields, varieties, windows } = context.season
  const field = fields.find((each) => each.name === block.field)
  const variety = varieties.find((each) => each.name === block.variety)
  const window = windows.find((each) => each.name === block.window)
  return field && variety && window ? { field, variety, window } : undefined
}

/**
 * @param at things of `context`'s season
 * @param programme names of measures; one that is gone costs and helps nothing
 * @param seedsPerFoot [seeds/ft] that are dropped; absent: as the season's own rules have it
 */
export function acreMoney(
  context: Context,
  { field, variety, window }: BlockAt,
  programme: readonly string[],
  seedsPerFoot?: number,
): AcreMoney {
  const measures = context.season.measures.filter((measure) => programme.includes(measure.name))
  const ranges = lossesAt(context, { field, variety, window }, programme, seedsPerFoot)
  const vine = context.vine[variety.vine][field.growth]
  const yieldCents = expectedYield(context, field) * context.centsPerPound
  const all = (end: 'low' | 'usual' | 'high') => combineLosses(ranges.map((range) => range[end])) * yieldCents
  return {
    crop: variety.yieldIndex * variety.gradeIndex * yieldCents,
    cash: measures.reduce((sum, measure) => sum + measure.centsPerAcre, 0) + vine.cents,
    loss: { low: all('low'), usual: all('usual'), high: all('high') },
    vine: vineCents(context, vine, yieldCents),
    giveUp: giveUpCents(context, variety, yieldCents),
  }
}

/** [share of yield] Expected loss to each threat, in the order of the season's threats, under a programme that was used. */
export function lossesAt(
  context: Context,
  { field, variety, window }: BlockAt,
  programme: readonly string[],
  seedsPerFoot?: number,
): Range[] {
  const { season } = context
  const stand =
    seedsPerFoot === undefined
      ? dropFor(context, field, variety, window).stand
      : standOf(seedsPerFoot, variety.germination, context.emergence[field.rowPattern])
  const ground = { levels: levelsOf(context, field), yearsOut: yearsOut(field.history, season.season) }
  const measures = season.measures.filter((measure) => programme.includes(measure.name))
  return context.threats.map((table, t) =>
    lossRange(
      table,
      caseOf(context, ground, t, field, variety, window, stand),
      measures.map((measure) => measure.efficacy[table.name] ?? 0),
    ),
  )
}

/** The drop that a block was planned with. */
export function plannedDrop(context: Context, { field, variety, window }: BlockAt): DropFor {
  return dropFor(context, field, variety, window)
}
