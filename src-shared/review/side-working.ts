/** The working behind a figure of the side by side: what was planned, ordered, delivered, planted or harvested. */
import { contextOf } from '../agronomy/context.ts'
import { poundsPerTon } from '../agronomy/load-value.ts'
import { line, term, type WorkingLine, type WorkingTerm } from '../agronomy/working.ts'
import type { PlanBlock } from '../plan.ts'
import { ok, type Result } from '../problem.ts'
import type { Season } from '../season.ts'
import type { Figure, FigureWorking } from './figure.ts'
import type { Reckoning, Review } from './review.ts'
import { plannedCrop, type ReviewStage, type SideMeasure } from './side-by-side.ts'
import { named, noSuch, sumLine } from './sum-line.ts'

const sideTitles = {
  acres: ['Acres', 'acre', 1],
  packs: ['Packs', 'pack', 1],
  pounds: ['Pounds of seed', 'lb', 1],
  seedCents: ['Seed cost', '$', 100],
  tons: ['Tons', 'ton', 1],
  valueCents: ['Value of the crop', '$', 100],
} as const

/** The sum behind a cell, or behind the farm's own figure of the same. */
export function sideWorking(
  reckoning: Reckoning,
  review: Review,
  { variety, measure, stage }: Extract<Figure, { of: 'side' }>,
): Result<FigureWorking> {
  const [name, unit, scale] = sideTitles[measure]
  const title = `${name} ${stage}${variety === null ? ', the whole farm' : `, ${variety}`}`
  if (variety === null) {
    const rows = review.side.varieties.flatMap((row) => {
      const value = row.cells[measure][stage]
      return value === null ? [] : [term(row.variety ?? '', value / scale, unit)]
    })
    const rest = (review.side.farm[measure][stage] ?? 0) / scale - rows.reduce((sum, { value }) => sum + value, 0)
    const other =
      Math.abs(rest) < 1e-6
        ? []
        : [term(measure === 'seedCents' ? 'order fees and bills of no lot' : 'of no one variety', rest, unit)]
    return ok({ title, lines: [sumLine('side', title, unit, [...rows, ...other])] })
  }
  const row = review.side.varieties.find((each) => each.variety === variety)
  if (row === undefined) return noSuch('variety', variety)
  const cell = row.cells[measure][stage]
  return ok({
    title,
    lines:
      cell === null ? [] : sideLines(reckoning, { variety, measure, stage, title, unit, scale, amount: cell / scale }),
  })
}

/** One cell of the side by side: of a variety, at a stage. */
interface Cell {
  variety: string
  measure: SideMeasure
  stage: ReviewStage
  title: string
  unit: string
  /** What is reckoned with, to a `unit`: cents to a dollar. */
  scale: number
  /** [unit] what stands in the cell. */
  amount: number
}

function sumOf({ title, unit }: Cell, terms: readonly WorkingTerm[]): WorkingLine {
  return sumLine('side', title, unit, terms)
}

function sideLines(reckoning: Reckoning, cell: Cell): WorkingLine[] {
  switch (cell.stage) {
    case 'planned':
      return reckoning.record.planned === null ? [] : plannedLines(reckoning.record.planned, cell)
    case 'ordered':
      return [orderedLine(reckoning, cell)]
    case 'delivered':
      return deliveredLines(reckoning, cell)
    default:
      return [groundLine(reckoning, cell)]
  }
}

function plannedLines({ plan, from }: NonNullable<Reckoning['record']['planned']>, cell: Cell): WorkingLine[] {
  const { variety, measure, unit, amount } = cell
  const blocks = plan.blocks.filter((block) => block.variety === variety)
  const purchases = plan.purchases.filter((each) => each.variety === variety)
  switch (measure) {
    case 'acres': {
      const terms = blocks.map((block) => term(block.field, block.acres, unit))
      return [sumOf(cell, terms)]
    }
    case 'packs': {
      const terms = purchases.map((each) => term(each.quote, each.packs, unit))
      return [sumOf(cell, terms)]
    }
    case 'pounds': {
      const carried = plan.seed.find((each) => each.variety === variety)?.carriedPounds ?? 0
      const terms = purchases.map((each) => term(each.quote, each.pounds, unit))
      if (carried > 0) terms.push(term('carried in', carried, unit))
      return [sumOf(cell, terms)]
    }
    case 'seedCents': {
      const terms = purchases.map((each) => term(each.quote, each.cents / 100, unit))
      return [sumOf(cell, withBreaks(terms, amount, 'breaks on dealers’ totals, by pounds', unit))]
    }
    default:
      return plannedCropLines(blocks, from, cell)
  }
}

/** Tons or their value as the plan expected them, and the first fields each with its own working. */
function plannedCropLines(blocks: readonly PlanBlock[], from: Season, cell: Cell): WorkingLine[] {
  const then = contextOf(from)
  // What names a field that is gone was expected to bring nothing that could be told.
  const planned = blocks.flatMap((block) => {
    const crop = plannedCrop(then, block)
    return crop === null ? [] : [{ block, crop }]
  })
  const terms = planned.map(({ block, crop }) =>
    term(block.field, cell.measure === 'tons' ? crop.tons : crop.cents / 100, cell.unit),
  )
  const each = planned.slice(0, named).map(({ block, crop }) =>
    line({
      id: `crop/${block.field}`,
      label: `Expected of ${block.field}`,
      value: crop.tons,
      unit: 'ton',
      rule: 'over the last',
      terms: [
        term('expected, less threats and what is left in the ground', crop.expectedLb, 'lb/acre'),
        term('acres', block.acres, 'acre'),
        term('pounds in a ton', poundsPerTon, 'lb/ton'),
      ],
      note: `${Math.round(crop.cleanLb)} lb/acre where nothing ails it.`,
    }),
  )
  return [sumOf(cell, terms), ...each]
}

function orderedLine({ record }: Reckoning, cell: Cell): WorkingLine {
  const { variety, measure, unit, amount } = cell
  const lines = record.orders.flatMap((order) => order.lines).filter((each) => each.variety === variety)
  const terms = lines.map((each) => {
    const packs = each.confirmedPacks ?? each.packs
    const value =
      measure === 'packs'
        ? packs
        : measure === 'pounds'
          ? packs * each.packPounds
          : (packs * (each.confirmedPriceCents ?? each.packPriceCents)) / 100
    return term(`${each.quote}, ${each.state}`, value, unit)
  })
  return sumOf(cell, withBreaks(terms, amount, 'breaks on dealers’ whole orders, by pounds', unit))
}

/** What a price break on the whole takes off belongs to no one line: it is what the lines leave of the amount. */
function withBreaks(terms: readonly WorkingTerm[], amount: number, says: string, unit: string): WorkingTerm[] {
  const off = amount - terms.reduce((sum, { value }) => sum + value, 0)
  return Math.abs(off) > 0.001 ? [...terms, term(says, off, unit)] : [...terms]
}

function deliveredLines({ seed }: Reckoning, cell: Cell): WorkingLine[] {
  const { variety, measure, unit } = cell
  const lots = seed.lots.filter(({ lot }) => lot.variety === variety)
  const value = ({ lot, paidCents }: (typeof lots)[number]) =>
    measure === 'packs' ? (lot.packs ?? 0) : measure === 'pounds' ? lot.pounds : (paidCents ?? 0) / 100
  const terms = lots.map((each) => term(`lot ${each.lot.name}${each.from ? ` (${each.from})` : ''}`, value(each), unit))
  const below = measure === 'seedCents' ? lots.flatMap(({ lines }) => lines) : []
  return [sumOf(cell, terms), ...below]
}

/** Planted or harvested: by bill, lot, field or load. */
function groundLine({ ground, seed, crops, bills }: Reckoning, cell: Cell): WorkingLine {
  const { variety, measure, stage, unit, scale } = cell
  switch (measure) {
    case 'seedCents': {
      const terms = bills
        .filter(({ part }) => part === 'seed')
        .flatMap((bill) =>
          bill.posts.filter((post) => post.variety === variety && post.lotId !== null).map((post) => ({ bill, post })),
        )
        .map(({ bill, post }) => term(`${bill.says} on ${post.field ?? 'ground not finished'}`, post.cents / 100, unit))
      return sumOf(cell, terms)
    }
    case 'pounds': {
      const lots = seed.lots.filter(({ lot }) => lot.variety === variety)
      const terms = lots.map(({ lot, plantedPounds }) => term(`lot ${lot.name}`, plantedPounds, unit))
      return sumOf(cell, terms)
    }
    case 'acres': {
      const fields = new Set(crops.flatMap(({ posts }) => posts.map(({ field }) => field)))
      const parts = ground.parts.filter(
        (part) => part.variety === variety && (stage === 'planted' || fields.has(part.field)),
      )
      const terms = [...Map.groupBy(parts, ({ field }) => field)].map(([field, own]) => {
        const acres = own.reduce((sum, part) => sum + part.acres, 0)
        return term(field, acres, unit)
      })
      return sumOf(cell, terms)
    }
    default: {
      const terms = crops.flatMap((crop) => {
        const posts = crop.posts.filter((post) => post.variety === variety)
        if (posts.length === 0) return []
        const value = posts.reduce((sum, post) => sum + (measure === 'tons' ? post.tons : post.cents), 0)
        return [term(crop.says, value / scale, unit)]
      })
      return sumOf(cell, terms)
    }
  }
}
