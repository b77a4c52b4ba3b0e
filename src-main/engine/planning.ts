/** Solving for the open farm, one plan at a time, beside everything else; and how the newest plan stands today. */
import type { Input } from '../../src-shared/api.ts'
import { changeTally } from '../../src-shared/change-tally.ts'
import { waysToSettle } from '../../src-shared/give-way.ts'
import { ruleOf } from '../../src-shared/rule.ts'
import type { PlanRecord, SolvedPlan, SolveProgress } from '../../src-shared/plan.ts'
import { ProblemError, valueOf } from '../../src-shared/problem.ts'
import type { Season } from '../../src-shared/season.ts'
import { inTransaction } from './db/transaction.ts'
import { farmOf, requireSameFarm, type Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'
import { offered } from './ordered-seed.ts'
import { seasonAtHand } from './ordering.ts'
import { changesBetween } from './plan/changes.ts'
import { solveInThread } from './plan/plan-thread.ts'
import { giveBackSoon } from './give-back.ts'
import {
  lastAttempt,
  noteAttempt,
  planInHand,
  planInHandId,
  plansBeside,
  savePlan,
  takeInHand,
  type StoredPlan,
} from './plans.ts'

const running = new WeakMap<Engine, AbortController>()

/**
 * The plan in hand, what has changed since, and the last solve where it found nothing better. Without a plan in hand, the
 * last solve alone; null where the farm has changed since that too.
 */
export async function planNow(farm: OpenFarm): Promise<PlanRecord | null> {
  const { db, seasonId } = farm
  const inHand = await planInHand(db, seasonId)
  const attempt = await lastAttempt(db, seasonId)
  const shown = inHand ?? attempt
  if (shown === null) return null
  const now = (await seasonAtHand(db, seasonId)).season
  const { input, ...record } = shown
  const changes = changesBetween(input, now)
  if (inHand === null && changes.length > 0) return null
  const beside = await plansBeside(db, seasonId, record.id)
  return {
    ...record,
    isStale: changes.length > 0,
    leavesYieldOut: ruleOf(input.rules, 'yield-left-out') !== undefined,
    changes,
    changed: changeTally(input, now),
    before: beside.before?.totals ?? null,
    beforeId: beside.before?.id ?? null,
    afterId: beside.afterId,
    settling: waysToSettle(input, record.proof.conflict),
    attempt: inHand === null || attempt === null ? null : attemptNow(attempt, now),
  }
}

/** Null where the farm has changed since: what it found is about other numbers. */
function attemptNow({ id, madeAt, proof, plan, input }: StoredPlan, now: Season): PlanRecord['attempt'] {
  if (changesBetween(input, now).length > 0) return null
  return { id, madeAt, proof, costCents: plan?.totals.costCents ?? null, settling: waysToSettle(input, proof.conflict) }
}

/** A solve that found nothing, or that was stopped, does not take the place of the plan in hand. */
function isTaken({ plan, proof }: SolvedPlan, inHand: number | null): boolean {
  return plan !== null && (inHand === null || proof.status !== 'stopped')
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
    const solved = valueOf(
      await solveInThread(offer.season, {
        gap,
        seconds,
        onProgress,
        onFault: (what) => engine.noteBug('plan.solve', new Error(what)),
        signal: stop.signal,
      }),
    )
    return await engine.alone(async () => {
      requireSameFarm(engine, farm)
      const whole = offer.whole(solved)
      await inTransaction(farm.connection, null, async () => {
        const inHand = await planInHandId(farm.db, farm.seasonId)
        const id = await savePlan(farm.db, farm.seasonId, season, whole)
        await (isTaken(whole, inHand) ? takeInHand : noteAttempt)(farm.db, farm.seasonId, id)
      })
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
