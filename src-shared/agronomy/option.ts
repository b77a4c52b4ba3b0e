/**
 * Options: one variety, window and programme for one field, priced. What a hard rule forbids is returned
 * beside them with every reason. Of the programmes of one field, variety and window only the undominated stay.
 */
import { unreadRows } from '../book/unread-rows.ts'
import type { Field } from '../field.ts'
import type { Problem } from '../problem.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import type { Context } from './context.ts'
import { dropFor } from './drop.ts'
import { caseOf, groundOf, isPlantedIn, type Ground } from './ground.ts'
import { reasonsAlways, reasonsOfLoss, reasonsOfProgramme } from './hard-rules.ts'
import { addDays, hoursPerAcre, middleOf, weekOf } from './harvest.ts'
import { undominated, type Programme } from './programme.ts'
import { poundsPerAcre } from './seed.ts'
import { combineLosses, lossBeforeMeasures } from './threat.ts'
import { threatNotices } from './threat-table.ts'
import { vineNotices, type VineEntry } from './vine.ts'

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
  /** [cent/acre] digging loss and slowing by the vine, less what a growth regulator is taken to gain. */
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
  /** Of the programme that comes nearest to being allowed: the one with the fewest reasons. */
  reasons: string[]
  /** Its measures. */
  programme: string[]
}

export interface Options {
  options: Option[]
  excluded: Excluded[]
  /** Programmes there are, over all fields, varieties and windows, before any was left out. */
  looked: number
  /** What has to be said: a threat without a loss, a row that nothing reads, sets of measures left aside. */
  notices: Problem[]
}

/** All options of a season, in the order of its fields, varieties and windows. */
export function buildOptions(context: Context): Options {
  const { season } = context
  const notices = [...threatNotices(context.threats), ...vineNotices(context.book), ...unreadRows(season)]
  const built: Options = { options: [], excluded: [], looked: 0, notices }
  const days = harvestWeeks(context)
  for (const field of season.fields) {
    const open = season.windows.filter((window) => isPlantedIn(field, window))
    const ground = groundOf(context, field)
    built.notices.push(...ground.notices)
    for (const variety of season.varieties) {
      for (const window of open) {
        built.looked += ground.looked
        addOptions(context, ground, field, variety, window, days.get(window.name)?.get(variety.name) ?? '', built)
      }
    }
  }
  return built
}

/** Dates are slow to reckon and the same on every field: by window and variety, once. */
function harvestWeeks({ season }: Context): Map<string, Map<string, string>> {
  return new Map(
    season.windows.map((window) => [
      window.name,
      new Map(season.varieties.map((variety) => [variety.name, harvestWeek(window, variety, season.season)])),
    ]),
  )
}

/** Monday of the week of digging: the middle of the window and the variety's days to maturity. ISO date. */
export function harvestWeek(window: PlantingWindow, variety: Variety, season: number): string {
  return weekOf(addDays(middleOf(window, season), variety.daysToMaturity))
}

interface Candidate {
  programme: Programme
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
  digWeek: string,
  built: Options,
): void {
  const { season, threats, hard } = context
  const vine = context.vine[variety.vine][field.growth]
  const { seedsPerFoot, stand } = dropFor(context, field, variety, window)
  const before = threats.map((threat, t) =>
    lossBeforeMeasures(threat, caseOf(context, ground, t, field, variety, window, stand)),
  )
  const yieldCents = ground.yieldLb * context.centsPerPound
  const always = reasonsAlways(hard, field, variety, window, vine, stand)

  let nearest: { reasons: string[]; programme: Programme } | null = null
  const candidates: Candidate[] = []
  for (const programme of ground.programmes) {
    const losses = before.map((loss, t) => Math.min(1, loss * (programme.leaves[t] as number)))
    const reasons = [
      ...always,
      ...reasonsOfProgramme(hard, field, variety, window, programme.measures),
      ...reasonsOfLoss(hard, losses),
    ]
    if (reasons.length > 0) {
      if (nearest === null || reasons.length < nearest.reasons.length) nearest = { reasons, programme }
      continue
    }
    const lossShare = combineLosses(losses)
    const cash = programme.cents + vine.cents
    candidates.push({ programme, losses, lossShare, cash, loss: lossShare * yieldCents, hours: 0 })
  }
  if (candidates.length === 0) {
    built.excluded.push({
      field: field.name,
      variety: variety.name,
      window: window.name,
      reasons: nearest?.reasons ?? always,
      programme: nearest?.programme.names ?? [],
    })
    return
  }
  const shared = {
    field: field.name,
    variety: variety.name,
    window: window.name,
    seedsPerFoot,
    stand,
    seedPoundsPerAcre: poundsPerAcre(seedsPerFoot, field.rowSpacingIn, variety.seedsPerPound),
    vineCents: vineCents(context, vine, yieldCents),
    giveUpCents: giveUpCents(context, variety, yieldCents),
    planterHours: hoursPerAcre(season.machines, 'planter', 0),
    diggerHours: hoursPerAcre(season.machines, 'digger', vine.slowing),
    combineHours: hoursPerAcre(season.machines, 'combine', vine.slowing),
    harvestWeek: digWeek,
  }
  for (const kept of undominated(candidates)) {
    built.options.push({
      ...shared,
      programme: kept.programme.names,
      cashCents: kept.cash,
      losses: kept.losses,
      lossShare: kept.lossShare,
      lossCents: kept.loss,
    })
  }
}

/** [cent/acre] pods left in the ground, and digger and combine time beyond the usual; less a growth regulator's gain. */
export function vineCents(context: Context, vine: VineEntry, yieldCents: number): number {
  const { season, hourDollars, regulatorGainLb, centsPerPound } = context
  const slower = (kind: 'digger' | 'combine') =>
    (hoursPerAcre(season.machines, kind, vine.slowing) - hoursPerAcre(season.machines, kind, 0)) * hourDollars[kind]
  const gain = vine.action === 'growth regulator' ? regulatorGainLb * centsPerPound : 0
  const time = vine.slowing === 0 ? 0 : (slower('digger') + slower('combine')) * 100
  return vine.digLoss * yieldCents + time - gain
}

/** [cent/acre] what the best variety of the list would bring more here; 0 where the manager leaves yield out. */
export function giveUpCents(context: Context, variety: Variety, yieldCents: number): number {
  if (!context.countsGiveUp) return 0
  return Math.max(0, context.bestIndex - variety.yieldIndex * variety.gradeIndex) * yieldCents
}
