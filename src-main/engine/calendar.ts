/** The plan in hand by weeks, its orders of work as files, and what it costs to plant a block in another week. */
import type { Input } from '../../src-shared/api.ts'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { calendarView, type CalendarView, type MoveCost } from '../../src-shared/calendar-view.ts'
import { ProblemError, valueOf } from '../../src-shared/problem.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { markOf } from './db/mark.ts'
import type { Engine } from './engine.ts'
import { calendarCsv, calendarIcs } from './export/calendar-file.ts'
import { writtenFile } from './export/written-file.ts'
import type { OpenFarm } from './farm-file.ts'
import { readLocks } from './locks.ts'
import { moveWeek } from './plan/move-week.ts'
import { priceSeason } from './plan/price.ts'
import { planInHand } from './plans.ts'
import { besidePlan, planToExplain } from './reasoning.ts'

/** Null without a plan, and for one that was made before weeks were counted. Locks are those of now. */
export async function calendarNow({ db, seasonId }: OpenFarm): Promise<CalendarView | null> {
  const stored = await planInHand(db, seasonId)
  if (stored === null) return null
  const locks = await readLocks(db, seasonId)
  return calendarView(contextOf({ ...stored.input, locks }), stored.plan)
}

export function moveNow(engine: Engine, { seconds, ...move }: Input<'calendar.move'>): Promise<MoveCost> {
  return besidePlan(engine, async (solver, signal) => {
    const { stored, offer } = await planToExplain(engine)
    const { problem } = valueOf(priceSeason(offer.season))
    const options = { gap: 0, seconds, wholeCents: true, signal, whole: offer.whole }
    return valueOf(await moveWeek(problem, stored.plan, move, options, solver))
  })
}

/** Throws a Problem where there is no plan by weeks. @param today ISO day on which it is written */
export async function calendarFile(farm: OpenFarm, as: 'csv' | 'ics', today: string): Promise<WrittenFile> {
  const view = await calendarNow(farm)
  if (view === null) {
    throw new ProblemError([
      { code: 'missing', what: 'No plan by weeks yet, so there is nothing to write.', remedy: 'Solve the plan first.' },
    ])
  }
  const title = `Calendar ${view.season}`
  if (as === 'csv') return writtenFile(title, as, calendarCsv(view))
  return writtenFile(title, as, calendarIcs(view, markOf(farm.connection)?.farmId ?? '', today))
}
