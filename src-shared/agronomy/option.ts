/**
 * Options: one variety, window and programme for one field, priced. What a hard rule forbids is returned
 * beside them with every reason. Of the programmes of one field, variety and window only the undominated stay.
 */
import { yearsOut, type Field, type PressureLevel } from '../field.ts'
import type { Measure } from '../threat.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import { expectedYield, type Context } from './context.ts'
import { groupsAskedFor, reasonsAlways, reasonsOfLoss, reasonsOfProgramme } from './hard-rules.ts'
import { addDays, hoursPerAcre, middleOf, weekOf } from './harvest.ts'
import { programmesOf, undominated } from './programme.ts'
import { poundsPerAcre, seedsPerFootForStand, standOf } from './seed.ts'
import { combineLosses, lossAfter, lossBeforeMeasures, nematodeLevel, type ThreatCase } from './threat.ts'

export interface Option {
  field: string
  variety: string
  window: string
  /** Names of the measures. */
  programme: string[]
  /** [seeds/ft of row position] */
  seedsPerFoot: number
  /** [plants/ft] */
  stand: number
  /** [lb/acre] without the reserve. */
  seedPoundsPerAcre: number
  /** [cent/acre] measures and vine work, without seed. */
  cashCents: number
  /** [share of yield] by threat, in the order of the season's threats. */
  losses: number[]
  /** [share of yield] all threats together. */
  lossShare: number
  /** [cent/acre] */
  lossCents: number
  /** [cent/acre] digging loss and slowing by the vine. */
  vineCents: number
  /** [cent/acre] */
  giveUpCents: number
  /** [machine-hour/acre] */
  planterHours: number
  diggerHours: number
  combineHours: number
  /** Monday of the week of digging. ISO date. */
  harvestWeek: string
}

/** A field, variety and window that no programme can make allowed, with every reason. */
export interface Excluded {
  field: string
  variety: string
  window: string
  reasons: string[]
}

export interface Options {
  options: Option[]
  excluded: Excluded[]
  /** Programmes looked at before dominance. */
  looked: number
}

/** All options of a season, in the order of its fields, varieties and windows. */
export function buildOptions(context: Context): Options {
  const { season } = context
  const built: Options = { options: [], excluded: [], looked: 0 }
  for (const field of season.fields) {
    const open = season.windows.filter((window) => field.windows.length === 0 || field.windows.includes(window.name))
    const ground = groundOf(context, field)
    for (const variety of season.varieties) {
      for (const window of open) addOptions(context, ground, field, variety, window, built)
    }
  }
  return built
}

/** What is the same for every variety on a field. */
export interface Ground {
  levels: PressureLevel[]
  yearsOut: number | null
  /** [lb/acre] from the goal and the rotation. */
  yieldLb: number
  programmes: Measure[][]
  /** Share of each threat's loss that each programme leaves, by programme and threat. */
  leaves: number[][]
}

export function groundOf(context: Context, field: Field): Ground {
  const { season, threats, book } = context
  const levels = threats.map((threat, t) => {
    const counted = season.threats[t]?.kind === 'nematode' ? nematodeLevel(book, field.nematodesPer100cc) : null
    return field.pressure[threat.name] ?? counted ?? 'none'
  })
  // A measure that bears on nothing this field has can only cost money, unless a rule may ask for its group.
  const asked = groupsAskedFor(context.hard)
  const useful = season.measures.filter(
    (measure) =>
      asked.has(measure.group) ||
      threats.some((threat, t) => levels[t] !== 'none' && (measure.efficacy[threat.name] ?? 0) > 0),
  )
  const programmes = programmesOf(useful)
  return {
    levels,
    yearsOut: yearsOut(field.history, season.season),
    yieldLb: expectedYield(context, field),
    programmes,
    leaves: programmes.map((programme) =>
      threats.map(({ name }) =>
        lossAfter(
          1,
          programme.map((measure) => measure.efficacy[name] ?? 0),
        ),
      ),
    ),
  }
}

interface Candidate {
  programme: Measure[]
  losses: number[]
  lossShare: number
  cash: number
  loss: number
  hours: number
}

function addOptions(
  context: Context,
  ground: Ground,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
  built: Options,
): void {
  const { season, threats, hard } = context
  const vine = context.vine[variety.vine][field.growth]
  const { seedsPerFoot, stand } = dropFor(context, field, variety, window)
  const before = threats.map((threat, t) =>
    lossBeforeMeasures(threat, caseOf(context, ground, t, field, variety, window, stand)),
  )
  const yieldCents = ground.yieldLb * context.centsPerPound
  const always = reasonsAlways(hard, field, variety, window, vine)

  let fewest: string[] | null = null
  const candidates: Candidate[] = []
  ground.programmes.forEach((programme, p) => {
    built.looked++
    const leaves = ground.leaves[p] as number[]
    const losses = before.map((loss, t) => Math.min(1, loss * (leaves[t] as number)))
    const reasons = [
      ...always,
      ...reasonsOfProgramme(hard, field, variety, window, programme),
      ...reasonsOfLoss(hard, losses),
    ]
    if (reasons.length > 0) {
      if (fewest === null || reasons.length < fewest.length) fewest = reasons
      return
    }
    const lossShare = combineLosses(losses)
    const cash = programme.reduce((sum, measure) => sum + measure.centsPerAcre, vine.cents)
    candidates.push({ programme, losses, lossShare, cash, loss: lossShare * yieldCents, hours: 0 })
  })
  if (candidates.length === 0) {
    built.excluded.push({ field: field.name, variety: variety.name, window: window.name, reasons: fewest ?? always })
    return
  }
  const diggerHours = hoursPerAcre(season.machines, 'digger', vine.slowing)
  const combineHours = hoursPerAcre(season.machines, 'combine', vine.slowing)
  const shared = {
    field: field.name,
    variety: variety.name,
    window: window.name,
    seedsPerFoot,
    stand,
    seedPoundsPerAcre: poundsPerAcre(seedsPerFoot, field.rowSpacingIn, variety.seedsPerPound),
    vineCents: vine.digLoss * yieldCents + slowingCents(context, vine.slowing),
    giveUpCents: context.countsGiveUp
      ? Math.max(0, context.bestIndex - variety.yieldIndex * variety.gradeIndex) * yieldCents
      : 0,
    planterHours: hoursPerAcre(season.machines, 'planter', 0),
    diggerHours,
    combineHours,
    harvestWeek: weekOf(addDays(middleOf(window, season.season), variety.daysToMaturity)),
  }
  for (const kept of undominated(candidates)) {
    built.options.push({
      ...shared,
      programme: kept.programme.map((measure) => measure.name),
      cashCents: kept.cash,
      losses: kept.losses,
      lossShare: kept.lossShare,
      lossCents: kept.loss,
    })
  }
}

/** [cent/acre] of digger and combine time beyond the usual. */
function slowingCents(context: Context, slowing: number): number {
  const cost = (kind: 'digger' | 'combine') =>
    (hoursPerAcre(context.season.machines, kind, slowing) - hoursPerAcre(context.season.machines, kind, 0)) *
    context.book.number(`harvest/${kind} hour`) *
    100
  return slowing === 0 ? 0 : cost('digger') + cost('combine')
}

/** The drop on a field and the stand it leaves; an early window raises it to the stand that the rules ask for. */
export function dropFor(
  context: Context,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
): { seedsPerFoot: number; stand: number } {
  const emergence = context.emergence[field.rowPattern]
  const { germination } = variety
  const plain =
    field.drop?.kind === 'fixed'
      ? field.drop.seedsPerFoot
      : field.drop?.kind === 'stand'
        ? seedsPerFootForStand(field.drop.plantsPerFoot, germination, emergence)
        : context.book.number(`drop/seeds per foot/${field.rowPattern}`)
  const least = window.kind === 'early' ? context.earlyStand : 0
  const seedsPerFoot =
    standOf(plain, germination, emergence) >= least
      ? plain
      : Math.max(plain, seedsPerFootForStand(least, germination, emergence))
  return { seedsPerFoot, stand: standOf(seedsPerFoot, germination, emergence) }
}

/** The circumstances of one threat on this ground. A threat that a variety has no rating for is taken as rated 9. */
export function caseOf(
  context: Context,
  ground: Pick<Ground, 'levels' | 'yearsOut'>,
  threat: number,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
  stand: number,
): ThreatCase {
  const table = context.threats[threat]
  return {
    level: ground.levels[threat] ?? 'none',
    rating: variety.ratings[table?.name ?? ''] ?? 9,
    window: window.kind,
    rows: field.rowPattern,
    water: field.water,
    tillage: field.tillage,
    yearsOut: ground.yearsOut,
    stand,
    vine: table?.isLeaf ? context.vine[variety.vine][field.growth].leafSpot : 1,
  }
}
