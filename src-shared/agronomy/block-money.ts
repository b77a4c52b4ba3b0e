/**
 * What one planted block makes, costs and loses under given circumstances, also where the house would no longer allow it
 * or another spray program would be better: a plan that stands is judged, not chosen. Same arithmetic as the options.
 */
import type { Range } from '../assumption.ts'
import type { Field } from '../field.ts'
import type { PlanBlock, PlantedPart } from '../plan.ts'
import { partsOf } from '../planted-part.ts'
import type { Measure } from '../threat.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import { acreValue, bestValueOf, vineCents } from './acre-money.ts'
import { silent, type Figure } from './calculation.ts'
import type { Context } from './context.ts'
import { daysOff, digShare, plantedIn } from './calendar.ts'
import { cropOf, groundFor, type Crop, type Ground, type Growing } from './crop.ts'
import { dropFor, type DropFor } from './drop.ts'
import { middleOf } from './harvest.ts'
import { gainOf } from './practice-gain.ts'
import { dollarsPerPound } from './price.ts'
import { rowFeetPerAcre, standOf } from './seed.ts'
import type { End } from './threat.ts'
import { vineWorkOf } from './vine-work.ts'

/** [cent/acre] each; loss as low ≤ usual ≤ high. */
export interface AcreMoney {
  /** What the crop brings before any loss. */
  crop: number
  /** Practices and vine work, without seed. */
  cash: number
  loss: Range
  vine: number
  giveUp: number
  /** What is left to be dug: digging off the best day takes a share of it. 0 where the house leaves yield out. */
  inGround: number
}

export interface BlockAt {
  field: Field
  variety: Variety
  window: PlantingWindow
  /** ISO date; absent: the middle of the window. */
  plantedOn?: string
}

/** The things that a block names, as this season has them; undefined where one of them is gone. */
export function placeOf(
  context: Context,
  block: Pick<PlanBlock, 'field' | 'variety' | 'window'> & { week?: string | undefined },
): BlockAt | undefined {
  const { fields, varieties, windows } = context.season
  const field = fields.find((each) => each.name === block.field)
  const variety = varieties.find((each) => each.name === block.variety)
  const window = windows.find((each) => each.name === block.window)
  if (!field || !variety || !window) return undefined
  const planted = (block.week ?? '') === '' ? undefined : plantedIn(window, block.week as string, context.season.season)
  return { field, variety, window, ...(planted === undefined ? {} : { plantedOn: planted }) }
}

/** A part of a block, planted in one week, where it is grown. */
export interface PartAt {
  at: BlockAt
  part: PlantedPart
}

/** The weeks of a block; null where something that it names is gone. */
export function partsAt(context: Context, block: PlanBlock): PartAt[] | null {
  const parts: PartAt[] = []
  for (const part of partsOf(block)) {
    const at = placeOf(context, { ...block, window: part.window, week: part.week })
    if (at === undefined) return null
    parts.push({ at, part })
  }
  return parts
}

/** [share] 0–1 of a part's crop that digging in its weeks leaves; 1 where no week of digging is known. */
export function dugShareOf({ calendar, book }: Context, { ripe, dug }: PlantedPart): number {
  const acres = dug.reduce((sum, each) => sum + each.acres, 0)
  if (acres <= 0) return 1
  return dug.reduce((sum, each) => sum + each.acres * digShare(calendar, book, daysOff(each.week, ripe)), 0) / acres
}

/** What each practice leaves of each disease or pest, in the order of the season's. */
export function leftBy(context: Context, practices: readonly Measure[]): Figure[][] {
  return context.threats.map((table) =>
    practices.flatMap((practice) => {
      const efficacy = practice.efficacy[table.name] ?? 0
      if (efficacy === 0) return []
      const left = 1 - efficacy
      const says = () => ({
        name: `what ${practice.name} leaves (1 − ${efficacy})`,
        value: left,
        unit: '×',
        ...(practice.source === undefined ? {} : { source: practice.source }),
      })
      return [{ value: left, says }]
    }),
  )
}

/** How a block is grown. @param seedsPerFoot [seeds/ft] that are planted; absent: as the season's own rules have it */
export function growingAt(context: Context, at: BlockAt, seedsPerFoot?: number): Growing {
  const { field, variety, window } = at
  const stand =
    seedsPerFoot === undefined
      ? dropFor(context, field, variety, window).stand
      : standOf(seedsPerFoot, variety.germination, context.emergence[field.rowPattern])
  const planted = at.plantedOn ?? middleOf(window, context.season.season)
  return { field, variety, window: window.kind, planted, stand }
}

/** @param programme names of practices; one that is gone costs and helps nothing */
export function practicesOf(context: Context, programme: readonly string[]): Measure[] {
  return context.season.measures.filter((measure) => programme.includes(measure.name))
}

/** The crop of a block under the practices that were used. */
export function cropAt(
  context: Context,
  at: BlockAt,
  programme: readonly string[],
  seedsPerFoot?: number,
  end: End = 'usual',
  ground: Ground = groundFor(context, at.field),
): Crop {
  const practices = practicesOf(context, programme)
  const growing = { ...growingAt(context, at, seedsPerFoot), gainLb: gainOf(at.field, practices) }
  return cropOf(context, ground, growing, leftBy(context, practices), silent, end)
}

/**
 * @param at things of `context`'s season
 * @param programme names of practices; one that is gone costs and helps nothing
 * @param seedsPerFoot [seeds/ft] that are planted; absent: as the season's own rules have it
 */
export function acreMoney(
  context: Context,
  at: BlockAt,
  programme: readonly string[],
  seedsPerFoot?: number,
): AcreMoney {
  const { field, variety } = at
  const ground = groundFor(context, field)
  const usual = cropAt(context, at, programme, seedsPerFoot, 'usual', ground)
  const gainLb = gainOf(field, practicesOf(context, programme))
  const value = acreValue(context, bestValueOf(context), ground, field, variety, usual.beforeLb, gainLb)
  const vine = context.vine[variety.vine][field.growth]
  // The ends are of the losses alone: what stand and date leave open stands in the yield's own range.
  const [low, high] = lossEnds(context, at, programme, seedsPerFoot, ground)
  const perPound = dollarsPerPound(context.book, context.price, variety, silent) * 100
  return {
    crop: value.crop + gainLb * perPound,
    cash:
      practicesOf(context, programme).reduce((sum, measure) => sum + measure.centsPerAcre, 0) +
      vineWorkOf(context, vine, variety).cents,
    loss: { low: low * value.crop, usual: usual.lossShare * value.crop, high: high * value.crop },
    vine: vineCents(context, field, variety, value.crop, usual.lossShare),
    giveUp: value.giveUp,
    inGround: context.countsYield ? value.crop * (1 - usual.lossShare) * (1 - usual.diggingShare) : 0,
  }
}

/** [share of yield] All losses together at the low and at the high end of what was found. */
function lossEnds(
  context: Context,
  at: BlockAt,
  programme: readonly string[],
  seedsPerFoot: number | undefined,
  ground: Ground,
): [number, number] {
  // The high end of a yield goes with the low end of its losses.
  const loss = (end: End) => cropAt(context, at, programme, seedsPerFoot, end, ground).lossShare
  return [loss('high'), loss('low')]
}

/** [share of yield] Expected loss to each disease or pest, in the order of the season's, under practices that were used. */
export function lossesAt(context: Context, at: BlockAt, programme: readonly string[], seedsPerFoot?: number): Range[] {
  const ground = groundFor(context, at.field)
  const of = (end: End) => cropAt(context, at, programme, seedsPerFoot, end, ground).losses
  const [low, usual, high] = [of('high'), of('usual'), of('low')]
  return usual.map((each, t) => ({ low: low[t] as number, usual: each, high: high[t] as number }))
}

/** [seeds/ft] The rate that a block was planned with, from its pounds. */
export function plannedRate(at: BlockAt, block: Pick<PlanBlock, 'poundsPerAcre'>): number {
  return (block.poundsPerAcre * at.variety.seedsPerPound) / rowFeetPerAcre(at.field.rowSpacingIn)
}

/** The rate that a block was planned with and the stand that it leaves. */
export function plannedDrop(context: Context, at: BlockAt, block: Pick<PlanBlock, 'poundsPerAcre'>): DropFor {
  const house = dropFor(context, at.field, at.variety, at.window)
  const seedsPerFoot = plannedRate(at, block)
  if (Math.abs(seedsPerFoot - house.seedsPerFoot) < 1e-9 * house.seedsPerFoot) return house
  const stand = standOf(seedsPerFoot, at.variety.germination, context.emergence[at.field.rowPattern])
  return { seedsPerFoot, stand, by: 'the plan' }
}
