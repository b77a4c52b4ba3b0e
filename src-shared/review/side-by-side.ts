/** Planned, ordered, delivered, planted and harvested beside one another. What is not known stays open; it is never a nought. */
import { contextOf, type Context } from '../agronomy/context.ts'
import { cropAt, dugShareOf, partsAt, plannedRate } from '../agronomy/block-money.ts'
import { poundsPerTon } from '../agronomy/load-value.ts'
import { dollarsPerTon } from '../agronomy/price.ts'
import { compareNames } from '../name-order.ts'
import { standing, sumsOf } from '../order.ts'
import type { PlanBlock } from '../plan.ts'
import type { Crop } from './crop.ts'
import type { Ground } from './ground.ts'
import type { ReviewInput } from './review-input.ts'
import type { Seed } from './seed-bills.ts'
import { plannedFees, plannedSeed } from './seed-walk.ts'
import { shareCents } from './share-cents.ts'

export const stages = ['planned', 'ordered', 'delivered', 'planted', 'harvested'] as const
export type ReviewStage = (typeof stages)[number]

export const measures = ['acres', 'packs', 'pounds', 'seedCents', 'tons', 'valueCents'] as const
export type SideMeasure = (typeof measures)[number]

export type SideCells = Record<SideMeasure, Record<ReviewStage, number | null>>

export interface SideRow {
  /** Null: the whole farm. */
  variety: string | null
  cells: SideCells
}

export interface SideBySide {
  farm: SideCells
  varieties: SideRow[]
}

const none = (): SideCells =>
  Object.fromEntries(
    measures.map((measure) => [measure, Object.fromEntries(stages.map((stage) => [stage, null]))]),
  ) as SideCells

/** Every measure at every stage, by variety and for the farm; null where nothing is known of a stage. */
export function sideBySide(record: ReviewInput, ground: Ground, seed: Seed, crops: readonly Crop[]): SideBySide {
  const rows = new Map<string, SideCells>()
  const farm = none()
  const add = (variety: string | null, measure: SideMeasure, stage: ReviewStage, value: number) => {
    if (variety !== null) {
      const cells = rows.get(variety) ?? none()
      rows.set(variety, cells)
      cells[measure][stage] = (cells[measure][stage] ?? 0) + value
    }
    farm[measure][stage] = (farm[measure][stage] ?? 0) + value
  }
  addPlan(record, add)
  addOrders(record, add)
  for (const { lot, paidCents, plantedPounds } of seed.lots) {
    add(lot.variety, 'pounds', 'delivered', lot.pounds)
    if (lot.packs !== null) add(lot.variety, 'packs', 'delivered', lot.packs)
    if (paidCents !== null) add(lot.variety, 'seedCents', 'delivered', paidCents)
    if (plantedPounds > 0) add(lot.variety, 'pounds', 'planted', plantedPounds)
  }
  if (seed.feeCents > 0) add(null, 'seedCents', 'delivered', seed.feeCents)
  if (seed.looseBillCents !== 0) add(null, 'seedCents', 'delivered', seed.looseBillCents)
  for (const { variety, acres } of ground.parts) add(variety, 'acres', 'planted', acres)
  for (const { part, posts } of seed.bills) {
    if (part !== 'seed') continue
    for (const { lotId, variety, cents } of posts) if (lotId !== null) add(variety, 'seedCents', 'planted', cents)
  }
  addHarvest(ground, crops, add)
  const varieties = [...rows].sort(([a], [b]) => compareNames(a, b)).map(([variety, cells]) => ({ variety, cells }))
  return { farm, varieties }
}

type Add = (variety: string | null, measure: SideMeasure, stage: ReviewStage, value: number) => void

function addPlan({ planned }: ReviewInput, add: Add): void {
  if (planned === null) return
  const { plan, from } = planned
  const context = contextOf(from)
  for (const [variety, { cents, pounds, packs }] of plannedSeed(plan)) {
    add(variety, 'seedCents', 'planned', cents)
    add(variety, 'pounds', 'planned', pounds)
    add(variety, 'packs', 'planned', packs)
  }
  if (plannedFees(plan) > 0) add(null, 'seedCents', 'planned', plannedFees(plan))
  for (const block of plan.blocks) {
    add(block.variety, 'acres', 'planned', block.acres)
    const crop = plannedCrop(context, block)
    if (crop === null) continue
    add(block.variety, 'tons', 'planned', crop.tons)
    add(block.variety, 'valueCents', 'planned', crop.cents)
  }
}

export interface PlannedCrop {
  /** [lb/acre] that nothing ails, and less what is expected to be lost to threats and left in the ground. */
  cleanLb: number
  expectedLb: number
  tons: number
  cents: number
}

/** What a block of the plan was expected to bring; null where something that it names is gone. */
export function plannedCrop(context: Context, block: PlanBlock): PlannedCrop | null {
  const parts = partsAt(context, block)
  const [first] = parts ?? []
  if (parts === null || first === undefined) return null
  let pounds = 0
  let cleanPounds = 0
  for (const { at, part } of parts) {
    const crop = cropAt(context, at, block.programme, plannedRate(at, block))
    const dug = crop.beforeLb * (1 - crop.lossShare) * (1 - crop.diggingShare)
    pounds += part.acres * (crop.lb - dug * (1 - dugShareOf(context, part)))
    cleanPounds += part.acres * crop.beforeLb
  }
  const cents = Math.round((pounds / poundsPerTon) * dollarsPerTon(context.book, context.price, first.at.variety) * 100)
  return {
    cleanLb: cleanPounds / block.acres,
    expectedLb: pounds / block.acres,
    tons: pounds / poundsPerTon,
    cents,
  }
}

function addOrders({ orders }: ReviewInput, add: Add): void {
  for (const order of orders) {
    const lines = order.lines.map((line) => ({ line, ...standing(line) })).filter(({ packs }) => packs > 0)
    const sums = sumsOf(order)
    const off = shareCents(
      -sums.offCents,
      lines.map(({ line, packs }) => packs * line.packPounds),
    )
    lines.forEach(({ line, packs, packPriceCents }, at) => {
      add(line.variety, 'packs', 'ordered', packs)
      add(line.variety, 'pounds', 'ordered', packs * line.packPounds)
      add(line.variety, 'seedCents', 'ordered', packs * packPriceCents + (off[at] as number))
    })
    if (sums.feeCents > 0) add(null, 'seedCents', 'ordered', sums.feeCents)
  }
}

function addHarvest(ground: Ground, crops: readonly Crop[], add: Add): void {
  const harvested = new Set(crops.flatMap(({ posts }) => posts.map(({ field }) => field)))
  for (const { field, variety, acres } of ground.parts) {
    if (harvested.has(field)) add(variety, 'acres', 'harvested', acres)
  }
  for (const post of crops.flatMap(({ posts }) => posts)) {
    add(post.variety, 'tons', 'harvested', post.tons)
    if (post.tons > post.unpricedTons) add(post.variety, 'valueCents', 'harvested', post.cents)
  }
}
