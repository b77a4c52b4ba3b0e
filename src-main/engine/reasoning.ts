/**
 * Work beside the plan in hand: its curve, its hard years, its reasons. One such work at a time, in a solver of its
 * own that stays; each can be stopped and keeps what it has.
 */
import type { Input } from '../../src-shared/api.ts'
import type { Curve, CurvePoint } from '../../src-shared/curve.ts'
import type { HardYear } from '../../src-shared/hard-year.ts'
import { ProblemError, valueOf, type Problem } from '../../src-shared/problem.ts'
import type { FieldChoice, Reason, Reasons } from '../../src-shared/reasons.ts'
import type { Season } from '../../src-shared/season.ts'
import { farmOf, requireSameFarm, type Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'
import { offered, type Offered } from './ordered-seed.ts'
import { seasonAtHand } from './ordering.ts'
import { drawCurve } from './plan/curve.ts'
import { varietiesLeftOut } from './plan/entry-price.ts'
import { hardYear } from './plan/hard-year.ts'
import { houseRuleCosts } from './plan/house-rule-cost.ts'
import { forcedChoice } from './plan/next-best.ts'
import { priceSeason } from './plan/price.ts'
import { quickReasons, refine, refineRules, withReason } from './plan/reasons.ts'
import { Solver } from './plan/solver.ts'
import { planInHand, readReasons, savePlan, saveReasons, takeInHand, type FoundPlan } from './plans.ts'
import { rulesOf } from './rules-in-force.ts'

const atWork = new WeakMap<Engine, AbortController>()
const solvers = new WeakMap<Engine, Solver>()
const drawn = new WeakMap<Engine, { farm: OpenFarm; season: Season; curve: Curve }>()

/** Does one work, with the engine's long-lived solver and a way to stop it; refuses a second at the same time. */
export async function besidePlan<T>(
  engine: Engine,
  work: (solver: Solver, signal: AbortSignal) => Promise<T>,
): Promise<T> {
  if (atWork.has(engine)) throw new ProblemError([busy])
  const stop = new AbortController()
  atWork.set(engine, stop)
  try {
    const solver = solvers.get(engine) ?? new Solver()
    solvers.set(engine, solver)
    return await work(solver, stop.signal)
  } finally {
    atWork.delete(engine)
  }
}

/** True if something was at work; what it has is kept. */
export function stopWork(engine: Engine): boolean {
  const stop = atWork.get(engine)
  stop?.abort()
  return stop !== undefined
}

/** From the season as it stands, whether or not a plan was made. */
export function curveNow(engine: Engine, { today, ...settings }: Input<'plan.curve'>): Promise<Curve> {
  return besidePlan(engine, async (solver, signal) => {
    const { farm, season, ordered, near } = await engine.alone(async () => {
      const open = farmOf(engine)
      const stored = await planInHand(open.db, open.seasonId)
      const { season, ordered } = await seasonAtHand(open.db, open.seasonId)
      return { farm: open, season, ordered, near: stored?.plan ?? null }
    })
    const offer = valueOf(offered(season, ordered, today))
    const { problem } = valueOf(priceSeason(offer.season))
    const curve = valueOf(
      await drawCurve(
        problem,
        {
          ...settings,
          near,
          wholeCents: true,
          signal,
          onPoint: (found, step, steps) => {
            const { lossLimitCents, paidCents, lossCents } = withOrders(offer, found)
            const point = { lossLimitCents, paidCents, lossCents }
            engine.say({ kind: 'work', found: { of: 'curve', point }, step, steps })
          },
        },
        solver,
      ),
    )
    const whole = { ...curve, points: curve.points.map((point) => withOrders(offer, point)) }
    drawn.set(engine, { farm, season, curve: whole })
    return whole
  })
}

/** A point with what is on order in its plan and in its money. */
function withOrders(offer: Offered, point: CurvePoint): CurvePoint {
  const { plan, proof } = offer.whole(point)
  if (plan === null) return point
  return { ...point, plan, proof, paidCents: point.paidCents + plan.totals.seedCents - point.plan.totals.seedCents }
}

/** A point of the curve becomes the plan in hand. In the caller's transaction. */
export async function adoptPoint(engine: Engine, place: number): Promise<null> {
  const last = drawn.get(engine)
  const point = last !== undefined && last.farm === engine.farm ? last.curve.points[place] : undefined
  if (last === undefined || point === undefined) throw new ProblemError([noPoint])
  const { db, seasonId } = farmOf(engine)
  await takeInHand(db, seasonId, await savePlan(db, seasonId, last.season, { plan: point.plan, proof: point.proof }))
  return null
}

export function hardYearNow(engine: Engine, settings: Input<'plan.hardYear'>): Promise<HardYear> {
  return besidePlan(engine, async (solver, signal) => {
    const { stored, offer } = await planToExplain(engine)
    const options = { ...settings, wholeCents: true, signal, whole: offer.whole }
    return valueOf(await hardYear(offer.season, stored, options, solver))
  })
}

/** Refined reasons where they were found before, quick ones for the rest. Null without a plan. */
export async function reasonsNow(engine: Engine, { db, seasonId }: OpenFarm): Promise<Reasons | null> {
  const stored = await planInHand(db, seasonId)
  if (stored === null) return null
  const known = await readReasons(db, stored.id)
  if (known !== null) return known
  const offer = await holdingOrders({ db, seasonId }, stored.input)
  const { problem, excluded } = valueOf(priceSeason(offer.season))
  // One relaxation in a solver of its own: other work may hold the long-lived one for a while.
  const solver = new Solver()
  try {
    return await quickReasons(problem, excluded, stored.plan, solver)
  } finally {
    await solver.close()
  }
}

/** Works out one reason after another, tells each and keeps all with the plan. */
export function refineNow(engine: Engine, { field, of, ...settings }: Input<'plan.refine'>): Promise<Reasons> {
  return besidePlan(engine, async (solver, signal) => {
    const { farm, stored, offer } = await planToExplain(engine)
    const { problem, excluded } = valueOf(priceSeason(offer.season))
    // What was worked out before stays known, whatever becomes of this.
    const known = await engine.alone(() => readReasons(farm.db, stored.id))
    let reasons = known ?? (await quickReasons(problem, excluded, stored.plan, solver, signal))
    const own = field === undefined ? [] : ownChoices(reasons, field)
    const fields = of === 'everything' ? problem.fields.length : 0
    const others = varietiesLeftOut(problem, stored.plan).length + rulesOf(stored.input).length
    const steps = field === undefined ? fields + others : own.length
    let step = 0
    const options = { ...settings, wholeCents: true, signal, whole: offer.whole }
    const tell = (reason: Reason) => {
      reasons = withReason(reasons, reason)
      engine.say({ kind: 'work', found: { of: 'reasons', reason }, step: ++step, steps })
    }
    if (field !== undefined) {
      for (const { variety } of own) {
        const found = await forcedChoice(problem, stored, field, variety, options, solver)
        if (signal.aborted) break
        tell({ kind: 'field', choices: [valueOf(found)] })
      }
    } else {
      const asked = of === 'everything' ? refine : refineRules
      for await (const found of asked(problem, stored, options, solver)) tell(valueOf(found))
      for await (const found of houseRuleCosts(offer.season, stored, options, solver)) {
        tell({ kind: 'rule', ruleCost: valueOf(found) })
      }
      reasons = { ...reasons, isRefined: reasons.isRefined || (of === 'everything' && !signal.aborted) }
    }
    await engine.alone(async () => {
      requireSameFarm(engine, farm)
      await saveReasons(farm.db, stored.id, reasons)
    })
    return reasons
  })
}

/** Choices of a field that are only bounded yet, the likeliest first. */
function ownChoices(reasons: Reasons, field: string): FieldChoice[] {
  return reasons.choices
    .filter((choice) => choice.field === field && choice.cost.kind === 'at-least')
    .sort((a, b) => (a.cost.cents ?? 0) - (b.cost.cents ?? 0))
}

interface InHand {
  farm: OpenFarm
  stored: FoundPlan
  /** The season that the plan was made from, with what is on order by now held. */
  offer: Offered
}

export function planToExplain(engine: Engine): Promise<InHand> {
  return engine.alone(async () => {
    const farm = farmOf(engine)
    const stored = await planInHand(farm.db, farm.seasonId)
    if (stored === null) throw new ProblemError([noPlan])
    return { farm, stored, offer: await holdingOrders(farm, stored.input) }
  })
}

/** The season that a plan was made from, holding what is on order by now. */
async function holdingOrders({ db, seasonId }: Pick<OpenFarm, 'db' | 'seasonId'>, season: Season): Promise<Offered> {
  const { ordered } = await seasonAtHand(db, seasonId)
  return valueOf(offered(season, ordered))
}

const busy: Problem = {
  code: 'busy',
  what: 'Something else about the plan is being worked out already.',
  remedy: 'Wait for it, or stop it first.',
}

const noPlan: Problem = {
  code: 'missing',
  what: 'There is no plan yet.',
  remedy: 'Ask for a plan first.',
}

const noPoint: Problem = {
  code: 'missing',
  what: 'There is no such point on a curve of this farm.',
  remedy: 'Draw the curve again and choose a point.',
}
