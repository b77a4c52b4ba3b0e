/**
 * What was expected of the ground as it was really planted: by the book, the varieties and the fields as they were when the
 * plan in hand was made, so that a lesson taken since does not change what this season is held against.
 */
import { cropAt, lossesAt, type BlockAt } from '../agronomy/block-money.ts'
import { contextOf, type Context } from '../agronomy/context.ts'
import type { Range } from '../assumption.ts'
import { addDays, daysBetween } from '../agronomy/harvest.ts'
import type { Season } from '../season.ts'
import type { PlantingWindow } from '../window.ts'
import type { FieldGround } from './ground.ts'
import type { ReviewInput } from './review-input.ts'

/** Book, fields, varieties, measures and windows as the plan in hand knew them; without a plan, as they are now. */
export function expectationOf({ season, planned }: ReviewInput): Context {
  if (planned === null) return contextOf(season)
  const { from } = planned
  const asPlanned = <Thing extends { name: string }>(now: readonly Thing[], then: readonly Thing[]) =>
    now.map((each) => then.find(({ name }) => name === each.name) ?? each)
  return contextOf({
    ...season,
    assumptions: from.assumptions,
    fields: asPlanned(season.fields, from.fields),
    varieties: asPlanned(season.varieties, from.varieties),
    measures: asPlanned(season.measures, from.measures),
    windows: asPlanned(season.windows, from.windows),
  })
}

/** The window that a day lies in, else the nearest; the usual one where no day is known. */
function windowOf(season: Season, day: string | null): PlantingWindow | undefined {
  const { windows } = season
  if (day === null) return windows.find(({ kind }) => kind === 'usual') ?? windows[0]
  const days = (one: string, other: string) => Math.abs(daysBetween(one, other))
  const off = ({ opens, closes }: PlantingWindow) => {
    const [from, to] = [`${season.season}-${opens}`, `${season.season}-${closes}`]
    if (day >= from && day <= addDays(to, 0)) return 0
    return Math.min(days(day, from), days(day, to))
  }
  return windows.toSorted((a, b) => off(a) - off(b))[0]
}

/** A field's ground of one variety with what was expected to be lost there. */
export interface PlantedBlock {
  field: string
  variety: string
  acres: number
  at: BlockAt
  programme: string[]
  seedsPerFoot: number | undefined
  /** [share of yield] by threat, in the order of the season's threats; and all together. */
  losses: Range[]
  together: number
  /** [lb/acre] expected before diseases, pests and digging. */
  beforeLb: number
  /** [lb/acre] expected. */
  expectedLb: number
}

/** A field's ground by variety; what names a variety, a field or a window that is gone is left out. */
export function plantedBlocks(context: Context, { field, parts, plantings }: FieldGround): PlantedBlock[] {
  const { season } = context
  const known = season.fields.find(({ name }) => name === field.name)
  return [...Map.groupBy(parts, ({ variety }) => variety)].flatMap(([name, own]): PlantedBlock[] => {
    const variety = season.varieties.find((each) => each.name === name)
    const ids = new Set(own.map(({ plantingId }) => plantingId))
    const entries = plantings.filter(({ id }) => ids.has(id))
    const window = windowOf(season, entries[0]?.plantedOn ?? null)
    if (known === undefined || variety === undefined || window === undefined) return []
    const programme = [...new Set(entries.flatMap(({ measures }) => measures))]
    const drops = entries.flatMap(({ seedsPerFoot }) => seedsPerFoot ?? [])
    const seedsPerFoot = drops.length > 0 ? drops.reduce((sum, each) => sum + each, 0) / drops.length : undefined
    const plantedOn = entries.flatMap(({ plantedOn }) => plantedOn ?? [])[0]
    const at: BlockAt = { field: known, variety, window, ...(plantedOn === undefined ? {} : { plantedOn }) }
    const losses = lossesAt(context, at, programme, seedsPerFoot)
    const crop = cropAt(context, at, programme, seedsPerFoot)
    return [
      {
        field: field.name,
        variety: name,
        acres: own.reduce((sum, part) => sum + part.acres, 0),
        at,
        programme,
        seedsPerFoot,
        losses,
        together: crop.lossShare,
        beforeLb: crop.beforeLb,
        expectedLb: crop.lb,
      },
    ]
  })
}
