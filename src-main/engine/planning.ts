/** Solving for the open farm, one plan at a time, beside everything else; and how the newest plan stands today. */
import type { Input } from '../../src-shared/api.ts'
import { changeTally } from '../../src-shared/change-tally.ts'
import { waysToSettle } from '../../src-shared/give-way.ts'
import type { PlanRecord, SolveProgress } from '../../src-shared/plan.ts'
import { ProblemError, valueOf } from '../../src-shared/problem.ts'
import { farmOf, requireSameFarm, type Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'
import { offered } from './ordered-seed.ts'
import { seasonAtHand } from './ordering.ts'
import { changesBetween } from './plan/changes.ts'
import { solvePlan } from './plan/solve-plan.ts'
import { giveBackSoon } from './give-back.ts'
import { latestPlan, planBefore, savePlan } from './plans.ts'

const running = new WeakMap<Engine, AbortController>()

/** The newest plan, and in words what has changed since. */
export async function planNow(farm: OpenFarm): Promise<PlanRecord | null> {
  const stored = await latestPlan(farm.db, farm.seasonId)
  if (stored === null) return null
  const { input, ...record } = stored
  const now = (await seasonAtHand(farm.db, farm.seasonId)).season
  const changes = changesBetween(input, now)
  const before = await planBefore(farm.db, farm.seasonId, record.id)
  return {
    ...record,
    isStale: changes.length > 0,
    changes,
    changed: changeTally(input, now),
    before: before?.totals ?? null,
    beforeId: before?.id ?? null,
    settling: waysToSettle(input, record.proof.conflict),
  }
}

/** Solves, keeps the plan with the season it was made from, and tells how it went on the way. */
export async function solveNow(engine: Engine, { gap, seconds, today }: Input<'plan.solve'>): Promise<PlanRecord> {
  if (running.has(engine)) {
    throw new ProblemError([
      { code: 'busy', what: 'A plan is being worked out already.', remedy: 'Wait for it, or stop it first.' },
    ])
  }
  const stop = new AbortController()
  running.set(engine, stop)
  try {
    const { farm, season, ordered } = await engine.alone(async () => {
      const open = farmOf(engine)
      return { farm: open, ...(await seasonAtHand(open.db, open.seasonId)) }
    })
    const offer = valueOf(offered(season, ordered, today))
    const onProgress = (progress: SolveProgress) => engine.say({ kind: 'progress', progress, draft: null })
    const solved = valueOf(await solvePlan(offer.season, { gap, seconds, onProgress, signal: stop.signal }))
    return await engine.alone(async () => {
      requireSameFarm(engine, farm)
      const whole = offer.whole(solved)
      await farm.db.transaction().execute((transaction) => savePlan(transaction, farm.seasonId, season, whole))
      const record = await planNow(farm)
      if (!record) throw new Error('The plan that was just kept is not there.')
      return record
    })
  } finally {
    running.delete(engine)
    giveBackSoon()
  }
}

/** True if a plan was being worked out; the best found so far is kept. */
export function stopSolving(engine: Engine): boolean {
  const stop = running.get(engine)
  stop?.abort()
  return stop !== undefined
}
