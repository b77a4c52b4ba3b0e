/**
 * Explain a number: the whole working of one option as data. It reckons nothing of its own that the options do not:
 * a test compares both, and works every line out again from its terms.
 */
import { yearsOut } from '../field.ts'
import { fail, ok, type Problem, type Result } from '../problem.ts'
import { cautionsOfOption, type Caution } from './cautions.ts'
import type { Context } from './context.ts'
import { explainCash, explainGiveUp, explainHours, explainVine, explainYield } from './explain-costs.ts'
import { explainLoss } from './explain-loss.ts'
import { explainSeed } from './explain-seed.ts'
import { isPlantedIn, levelsOf } from './ground.ts'
import { reasonsAlways, reasonsOfLoss, reasonsOfProgramme } from './hard-rules.ts'
import { addDays, middleOf, weekOf } from './harvest.ts'
import type { WorkingLine } from './working.ts'

/** Which option: names; `programme` has the names of its measures. */
export interface OptionName {
  field: string
  variety: string
  window: string
  programme: readonly string[]
}

/** The days behind the harvest week, which are no numbers to add. */
export interface HarvestWorking {
  /** ISO date: the middle of the window. */
  planted: string
  /** [day] of the variety. */
  daysToMaturity: number
  /** ISO date. */
  ripe: string
  /** ISO date: the Monday of that week. */
  week: string
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

  const seed = explainSeed(context, field, variety, window)
  const crop = explainYield(context, field)
  const ground = { levels: levelsOf(context, field), yearsOut: yearsOut(field.history, season.season) }
  const loss = explainLoss(context, ground, field, variety, window, programme, seed.stand, crop.dollars)
  const vine = context.vine[variety.vine][field.growth]
  const planted = middleOf(window, season.season)
  const ripe = addDays(planted, variety.daysToMaturity)
  return ok({
    lines: [
      ...seed.lines,
      ...crop.lines,
      ...loss.lines,
      ...explainHours(context, field, variety),
      ...explainVine(context, field, variety, crop.dollars),
      ...explainGiveUp(context, variety, crop.dollars),
      explainCash(context, field, variety, programme),
    ],
    harvest: { planted, daysToMaturity: variety.daysToMaturity, ripe, week: weekOf(ripe) },
    reasons: [
      ...reasonsAlways(hard, field, variety, window, vine, seed.stand),
      ...reasonsOfProgramme(hard, field, variety, window, programme),
      ...reasonsOfLoss(hard, loss.losses),
      ...(isPlantedIn(field, window) ? [] : [`${field.name} is planted only in: ${field.windows.join(', ')}.`]),
    ],
    cautions: cautionsOfOption(variety, programme),
  })
}

function noSuch(kind: string, name: string): Problem {
  return {
    code: 'unknown-name',
    what: `There is no ${kind} named "${name}".`,
    where: { name },
    remedy: 'It may have been renamed or removed; look at the list again.',
  }
}
