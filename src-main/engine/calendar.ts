/** The plan in hand by weeks, and what it costs to plant a block in another. */
import type { Input } from '../../src-shared/api.ts'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { calendarView, type CalendarView, type MoveCost } from '../../src-shared/calendar-view.ts'
import { valueOf } from '../../src-shared/problem.ts'
import type { Engine } from './engine.ts'
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
