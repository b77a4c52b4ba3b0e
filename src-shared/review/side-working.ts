/** The working behind a figure of the side by side: what was planned, ordered, delivered, planted or harvested. */
import { contextOf } from '../agronomy/context.ts'
import { poundsPerTon } from '../agronomy/load-value.ts'
import { line, term, type WorkingLine } from '../agronomy/working.ts'
import { ok, type Result } from '../problem.ts'
import type { Figure, FigureWorking } from './figure.ts'
import type { Reckoning, Review } from './review.ts'
import { plannedCrop } from './side-by-side.ts'
import { named, noSuch, sumLine } from './sum-line.ts'

const sideTitles = {
  acres: ['Acres', 'acre', 1],
  packs: ['Packs', 'pack', 1],
  pounds: ['Pounds of seed', 'lb', 1],
  seedCents: ['Seed cost', '$', 100],
  tons: ['Tons', 'ton', 1],
  valueCents: ['Value of the crop', '$', 100],
} as const

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
  return ok({ title, lines: cell === null ? [] : sideLines(reckoning, variety, measure, stage, title, cell) })
}

function sideLines(
  { record, ground, seed: own, crops, bills }: Reckoning,
  variety: string,
  measure: keyof typeof sideTitles,
  stage: Extract<Figure, { of: 'side' }>['stage'],
  title: string,
  cell: number,
): WorkingLine[] {
  const [, unit, scale] = sideTitles[measure]
  if (stage === 'planned' && record.planned) {
    const { plan, from } = record.planned
    const blocks = plan.blocks.filter((block) => block.variety === variety)
    if (measure === 'acres') {
      return [
        sumLine(
          'side',
          title,
          unit,
          blocks.map((block) => term(block.field, block.acres, unit)),
        ),
      ]
    }
    if (measure === 'tons' || measure === 'valueCents') {
      const then = contextOf(from)
      // What names a field that is gone was expected to bring nothing that could be told.
      const planned = blocks.flatMap((block) => {
        const crop = plannedCrop(then, block)
        return crop === null ? [] : [{ block, crop }]
      })
      const terms = planned.map(({ block, crop }) =>
        term(block.field, measure === 'tons' ? crop.tons : crop.cents / 100, unit),
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
      return [sumLine('side', title, unit, terms), ...each]
    }
    const purchases = plan.purchases.filter((each) => each.variety === variety)
    if (measure === 'packs')
      return [
        sumLine(
          'side',
          title,
          unit,
          purchases.map((each) => term(each.quote, each.packs, unit)),
        ),
      ]
    if (measure === 'pounds') {
      const carried = plan.seed.find((each) => each.variety === variety)?.carriedPounds ?? 0
      const terms = purchases.map((each) => term(each.quote, each.pounds, unit))
      if (carried > 0) terms.push(term('carried in', carried, unit))
      return [sumLine('side', title, unit, terms)]
    }
    const lines = purchases.map((each) => term(each.quote, each.cents / 100, '$'))
    const whole = lines.reduce((sum, { value }) => sum + value, 0)
    const paid = cell / scale
    if (Math.abs(paid - whole) > 0.001) lines.push(term('breaks on dealers’ totals, by pounds', paid - whole, '$'))
    return [sumLine('side', title, unit, lines)]
  }
  if (stage === 'ordered') {
    const lines = record.orders.flatMap(({ lines }) => lines).filter((each) => each.variety === variety)
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
    const off = cell / scale - terms.reduce((sum, { value }) => sum + value, 0)
    if (Math.abs(off) > 0.001) terms.push(term('breaks on dealers’ whole orders, by pounds', off, unit))
    return [sumLine('side', title, unit, terms)]
  }
  if (stage === 'delivered') {
    const lots = own.lots.filter(({ lot }) => lot.variety === variety)
    const value = ({ lot, paidCents }: (typeof lots)[number]) =>
      measure === 'packs' ? (lot.packs ?? 0) : measure === 'pounds' ? lot.pounds : (paidCents ?? 0) / 100
    const terms = lots.map((each) =>
      term(`lot ${each.lot.name}${each.from ? ` (${each.from})` : ''}`, value(each), unit),
    )
    const below = measure === 'seedCents' ? lots.flatMap(({ lines }) => lines) : []
    return [sumLine('side', title, unit, terms), ...below]
  }
  if (measure === 'seedCents') {
    const terms = bills
      .filter(({ part }) => part === 'seed')
      .flatMap((bill) =>
        bill.posts.filter((post) => post.variety === variety && post.lotId !== null).map((post) => ({ bill, post })),
      )
      .map(({ bill, post }) => term(`${bill.says} on ${post.field ?? 'ground not finished'}`, post.cents / 100, '$'))
    return [sumLine('side', title, unit, terms)]
  }
  if (measure === 'pounds') {
    const lots = own.lots.filter(({ lot }) => lot.variety === variety)
    return [
      sumLine(
        'side',
        title,
        unit,
        lots.map(({ lot, plantedPounds }) => term(`lot ${lot.name}`, plantedPounds, unit)),
      ),
    ]
  }
  if (measure === 'acres') {
    const fields = new Set(crops.flatMap(({ posts }) => posts.map(({ field }) => field)))
    const parts = ground.parts.filter(
      (part) => part.variety === variety && (stage === 'planted' || fields.has(part.field)),
    )
    const terms = [...Map.groupBy(parts, ({ field }) => field)].map(([field, each]) =>
      term(
        field,
        each.reduce((sum, { acres }) => sum + acres, 0),
        unit,
      ),
    )
    return [sumLine('side', title, unit, terms)]
  }
  const terms = crops.flatMap((crop) => {
    const posts = crop.posts.filter((post) => post.variety === variety)
    if (posts.length === 0) return []
    const value = posts.reduce((sum, post) => sum + (measure === 'tons' ? post.tons : post.cents), 0)
    return [term(crop.says, value / scale, unit)]
  })
  return [sumLine('side', title, unit, terms)]
}
