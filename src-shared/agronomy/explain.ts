/**
 * The whole working of one option as data: the lines of the very calculation that priced it. A test compares both, and
 * works every line out again from its terms.
 */
import { fail, ok, type Problem, type Result } from '../problem.ts'
import { cautionsOfOption, type Caution } from './cautions.ts'
import type { Context } from './context.ts'
import { acreValue, bestValueOf, vineCents } from './acre-money.ts'
import { leftBy } from './block-money.ts'
import { Calculation, figure } from './calculation.ts'
import { cropOf, cropRange, groundFor, type Crop, type Growing } from './crop.ts'
import { explainCash, explainHours } from './explain-costs.ts'
import { explainSeed } from './explain-seed.ts'
import { isPlantedIn } from './ground.ts'
import { reasonsAlways, reasonsOfLoss, reasonsOfProgramme } from './hard-rules.ts'
import { daysOff, digShare, digWeeksFor, plantedIn, ripeOn } from './calendar.ts'
import { middleOf } from './harvest.ts'
import { gainOf } from './practice-gain.ts'
import type { WorkingLine } from './working.ts'

/** [share] Weeks that lose more are not told of. */
const MUCH = 0.2

/** Which option: names; `programme` has the names of its measures. */
export interface OptionName {
  field: string
  variety: string
  window: string
  /** Monday of the planting week, ISO date; absent: the middle of the window. */
  week?: string | undefined
  programme: readonly string[]
  /** [seeds/ft] that the plan chose; absent: as the season's own rules have it. */
  seedsPerFoot?: number | undefined
}

/** The days behind the digging weeks, which are no numbers to add. */
export interface HarvestWorking {
  /** ISO date: the middle of the week, or of the window. */
  planted: string
  /** [day] of the variety. */
  daysToMaturity: number
  /** The best day to dig, ISO date: a Monday or a Thursday. */
  ripe: string
  /** Weeks about it, each with the share of the crop that digging then loses. */
  weeks: { week: string; lost: number }[]
}

export interface Working {
  lines: WorkingLine[]
  harvest: HarvestWorking
  /** Every hard rule that forbids this option; empty where it is allowed. */
  reasons: string[]
  cautions: Caution[]
}

/**
 * @returns every line behind the option, in the order in which one builds on another; also for an option that is
 *   excluded or that another beats; or a problem for each name that the season does not have
 */
export function explain(context: Context, name: OptionName): Result<Working> {
  const { season, hard } = context
  const problems: Problem[] = []
  const find = <Thing extends { name: string }>(list: readonly Thing[], kind: string, wanted: string) => {
    const found = list.find((thing) => thing.name === wanted)
    if (!found) problems.push(noSuch(kind, wanted))
    return found
  }
  const field = find(season.fields, 'field', name.field)
  const variety = find(season.varieties, 'variety', name.variety)
  const window = find(season.windows, 'window', name.window)
  const programme = name.programme.flatMap((measure) => find(season.measures, 'measure', measure) ?? [])
  if (!field || !variety || !window || problems.length > 0) return fail(...problems)

  const seed = explainSeed(context, field, variety, window, name.seedsPerFoot)
  const calculation = new Calculation(true)
  const planted =
    name.week === undefined ? middleOf(window, season.season) : plantedIn(window, name.week, season.season)
  const gainLb = gainOf(field, programme)
  const growing: Growing = { field, variety, window: window.kind, planted, stand: seed.stand, gainLb }
  const ground = groundFor(context, field, calculation)
  const left = leftBy(context, programme)
  const crop = cropOf(context, ground, growing, left, calculation)
  const range = cropRange(context, ground, growing, left)
  const expected = calculation.lines.find(({ id }) => id === 'yield')
  if (expected) Object.assign(expected, { low: range.low, high: range.high })
  const value = acreValue(context, bestValueOf(context), ground, field, variety, crop.beforeLb, gainLb, calculation)
  const [low, high] = (['high', 'low'] as const).map(
    (end) => cropOf(context, ground, growing, left, undefined, end).lossShare,
  ) as [number, number]
  calculation.line(
    'product',
    [figure(value.crop / 100, 'what the crop would bring', '$/acre'), figure(crop.lossShare, 'lost', 'share of yield')],
    () => ({
      id: 'loss dollars',
      label: 'Lost to diseases and pests',
      unit: '$/acre',
      low: (low * value.crop) / 100,
      high: (high * value.crop) / 100,
    }),
  )
  vineCents(context, field, variety, value.crop, crop.lossShare, calculation)
  const vine = context.vine[variety.vine][field.growth]
  const ripe = ripeOn(context.calendar, context.book, planted, variety.daysToMaturity, calculation)
  digLines(context, calculation, ripe, value.crop, crop)
  const around = digWeeksFor(context.calendar, context.book, ripe).filter(({ lost }) => lost < MUCH)
  return ok({
    lines: [
      ...seed.lines,
      ...calculation.lines,
      ...explainHours(context, field, variety),
      explainCash(context, field, variety, programme),
    ],
    harvest: {
      planted,
      daysToMaturity: variety.daysToMaturity,
      ripe,
      weeks: around.map(({ week, lost }) => ({ week, lost })),
    },
    reasons: [
      ...reasonsAlways(hard, field, variety, window, vine, seed.stand),
      ...reasonsOfProgramme(hard, field, variety, window, programme),
      ...reasonsOfLoss(hard, crop.losses),
      ...(isPlantedIn(field, window) ? [] : [`${field.name} is planted only in: ${field.windows.join(', ')}.`]),
    ],
    cautions: cautionsOfOption(variety, programme),
  })
}

/** What digging in the best week still loses: weeks are whole, and the best day is one of them. */
function digLines(
  { calendar, book, countsYield }: Context,
  calculation: Calculation,
  ripe: string,
  cropCents: number,
  { lossShare, diggingShare }: Pick<Crop, 'lossShare' | 'diggingShare'>,
): void {
  const weeks = digWeeksFor(calendar, book, ripe)
  const best = weeks.reduce((least, week) => (week.lost < least.lost - 1e-12 ? week : least))
  const share = digShare(calendar, book, daysOff(best.week, ripe), calculation)
  calculation.line(
    'product',
    [
      figure(cropCents / 100, 'what the crop would bring', '$/acre'),
      figure(1 - lossShare, 'left by diseases and pests', 'share'),
      figure(1 - diggingShare, 'left by the vine', 'share'),
      figure(1 - share, 'lost by the digging week', 'share'),
      figure(countsYield ? 1 : 0, countsYield ? 'yield counts' : 'your rules leave yield out', ''),
    ],
    () => ({ id: 'dig dollars', label: 'Lost in the best week of digging', unit: '$/acre' }),
  )
}

function noSuch(kind: string, name: string): Problem {
  return {
    code: 'unknown-name',
    what: `There is no ${kind} named "${name}".`,
    where: { name },
    remedy: 'It may have been renamed or removed; look at the list again.',
  }
}
