/** The review of a season: everything that was written down, put together once. Pure; a record in, a review out. */
import type { Context } from '../agronomy/context.ts'
import { cautions } from '../threat.ts'
import { showCount, showWhole } from '../show.ts'
import type { Bill } from './bill.ts'
import { cropOf, type Crop } from './crop.ts'
import { expectationOf, plantedBlocks, type PlantedBlock } from './expected.ts'
import { groundOf, type Ground } from './ground.ts'
import { marginsOf, type Margins } from './margins.ts'
import { moneyTable, views, type MoneyTable, type View } from './money-rows.ts'
import type { ReviewInput } from './review-input.ts'
import { replacedOrders, seedOf, type Seed } from './seed-bills.ts'
import { seedWalk, type SeedWalk } from './seed-walk.ts'
import { sideBySide, type SideBySide } from './side-by-side.ts'
import { countedStands, standRows, type CountedStand, type StandRow } from './stand-rows.ts'
import { troubleOf, type Trouble } from './trouble.ts'
import { workOf } from './work-bills.ts'

/** An assumption that figures of the review hang on, as it is printed with them. */
export interface AssumedRow {
  key: string
  says: string
  value: number
  unit: string
  source: string
  sourceKind: string
}

export interface Review {
  farm: string
  season: number
  /** How much of the year is written down. */
  has: { plan: boolean; orders: number; lots: number; plantings: number; loads: number; costs: number; seen: number }
  side: SideBySide
  /** Null while there is no plan or no seed. */
  seed: SeedWalk | null
  money: Record<View, MoneyTable>
  stands: StandRow[]
  trouble: Trouble[]
  margins: Margins
  /** What is missing or was taken in some way, in sentences. */
  notes: string[]
  assumed: AssumedRow[]
  cautions: string[]
}

/** What the review is put together from: the workings are told from the same. */
export interface Reckoning {
  record: ReviewInput
  context: Context
  ground: Ground
  seed: Seed
  bills: Bill[]
  crops: Crop[]
  blocks: PlantedBlock[]
  stands: CountedStand[]
  notes: string[]
}

/** All that the review and its workings are told from, each reckoned once. */
export function reckon(record: ReviewInput): Reckoning {
  const context = expectationOf(record)
  const ground = groundOf(record)
  const seed = seedOf(record, ground)
  const work = workOf(record, ground)
  return {
    record,
    context,
    ground,
    seed,
    bills: [...seed.bills, ...work.bills],
    crops: cropOf(record, ground),
    blocks: ground.fields.flatMap((field) => plantedBlocks(context, field)),
    stands: countedStands(context, record),
    notes: work.notes,
  }
}

/** The review as a page and paper show it; nothing is reckoned anew. */
export function reviewOf(reckoning: Reckoning): Review {
  const { record, context, ground, seed, bills, crops, blocks, stands } = reckoning
  const lotNames = new Map(record.lots.map(({ id, name }) => [String(id), name]))
  const tables = views.map((view) => [view, moneyTable(view, ground, { bills, crops }, lotNames)])
  return {
    farm: record.season.farm.name,
    season: record.season.season,
    has: {
      plan: record.planned !== null,
      orders: record.orders.length,
      lots: record.lots.length,
      plantings: record.plantings.length,
      loads: record.loads.length,
      costs: record.costs.length,
      seen: record.seen.length,
    },
    side: sideBySide(record, ground, seed, crops),
    seed: seedWalk(record, ground, seed),
    money: Object.fromEntries(tables) as Record<View, MoneyTable>,
    stands: standRows(record, stands),
    trouble: troubleOf(context, blocks, record.seen),
    margins: marginsOf(ground, bills, crops),
    notes: notesOf(reckoning),
    assumed: assumedOf(context),
    cautions: [
      cautions.estimate,
      ...(record.lots.some(({ isTreated }) => isTreated) ? [cautions.treatedSeed] : []),
      ...(record.season.measures.some(({ isPesticide }) => isPesticide) ? [cautions.pesticide] : []),
    ],
  }
}

function notesOf({ record, ground, seed, notes, crops }: Reckoning): string[] {
  const half = record.plantings.filter(({ isFinished }) => !isFinished).length
  const mixed = record.plantings.filter(({ isFinished, lots }) => isFinished && lots.length > 1).length
  const again = ground.fields.filter(({ againAcres }) => againAcres > 0)
  const unpriced = crops.reduce((sum, { unpricedTons }) => sum + unpricedTons, 0)
  const apart = crops.filter(({ posts }) => posts.some(({ lotId }) => lotId === null))
  const bare = ground.fields.filter(({ plantings }) => plantings.every(({ measures }) => measures.length === 0))
  const planned = new Set(record.planned?.plan.blocks.flatMap((b) => (b.programme.length > 0 ? [b.field] : [])) ?? [])
  const silent = bare.filter(({ field }) => planned.has(field.name)).length
  return [
    ...(half > 0
      ? [`${showCount(half, 'planting is', 'plantings are')} not finished and not counted on any field.`]
      : []),
    ...(mixed > 0
      ? [
          `${showCount(mixed, 'planting was', 'plantings were')} of several lots: they share its acres and crop by their pounds.`,
        ]
      : []),
    ...again.map(({ field }) => `${field.name} was planted again in part: each of its acres is counted once.`),
    ...carriedNotes(record),
    ...replacedOrders(record, ground.acres),
    ...(seed.unpriced.length > 0
      ? [`No price is known of lot ${seed.unpriced.join(', ')}: nobody ordered it and no bill was written down.`]
      : []),
    ...(unpriced > 0 ? [`${showWhole(unpriced)} tons have no price yet, so what they bring is not counted.`] : []),
    ...(apart.length > 0
      ? [`${showCount(apart.length, 'crop')} cannot be given to a lot: ${apart.map(({ says }) => says).join('; ')}.`]
      : []),
    ...(silent > 0
      ? [
          `On ${showCount(silent, 'field')} no measure is written down although the plan had some: none is counted there.`,
        ]
      : []),
    ...notes,
  ]
}

/** Seed that the plan counted on and no lot has: the planned price of a pound was lower for it. */
function carriedNotes({ planned, lots }: ReviewInput): string[] {
  if (lots.length === 0) return []
  return (planned?.plan.seed ?? []).flatMap(({ variety, carriedPounds }) => {
    const isHere = lots.some((lot) => lot.isCarried && lot.variety === variety)
    if (carriedPounds <= 0 || isHere) return []
    return [
      `The plan counted on ${showWhole(carriedPounds)} lb of ${variety} carried in, which is in no lot: it stands in the price.`,
    ]
  })
}

/** Rows of the book that every review leans on. */
const leansOn = [
  'price/peanuts',
  'harvest/digger hour',
  'harvest/combine hour',
  'emergence/field/single',
  'emergence/field/twin',
  'replant/work',
]

function assumedOf({ book }: Context): AssumedRow[] {
  return leansOn.map((key) => {
    const { value, unit, source, sourceKind, affects } = book.row(key)
    return { key, says: affects ?? key, value: Number(value), unit, source, sourceKind }
  })
}
