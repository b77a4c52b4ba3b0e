/** Drafts solved, compared and adopted: beside the plan in hand, which stays until another is chosen. */
import type { Input } from '../../src-shared/api.ts'
import type { Comparison } from '../../src-shared/comparison.ts'
import { changeTally } from '../../src-shared/change-tally.ts'
import { draftSeason, type DraftRow } from '../../src-shared/draft.ts'
import { waysToSettle } from '../../src-shared/give-way.ts'
import type { SolveProgress } from '../../src-shared/plan.ts'
import { ProblemError, valueOf, type Problem } from '../../src-shared/problem.ts'
import { inTransaction } from './db/transaction.ts'
import { draftNamed, draftSettings, listDrafts } from './drafts.ts'
import { farmOf, requireSameFarm, type Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'
import { joined, offered } from './ordered-seed.ts'
import { seasonAtHand } from './ordering.ts'
import { compare, type Made } from './plan/compare.ts'
import { solveInThread } from './plan/plan-thread.ts'
import { latestOfDraft, planById, readReasons, savePlan, saveReasons, takeInHand } from './plans.ts'
import { besidePlan } from './reasoning.ts'

/** Solves the season with the draft's changes. @returns the id of the plan that was kept */
export function solveDraft(engine: Engine, { id, gap, seconds, today }: Input<'draft.solve'>): Promise<number> {
  return besidePlan(engine, async (_, signal) => {
    const { farm, season, ordered } = await engine.alone(async () => {
      const open = farmOf(engine)
      const settings = await draftSettings(open.db, open.seasonId, id)
      const atHand = await seasonAtHand(open.db, open.seasonId)
      const drafted = valueOf(draftSeason(atHand.season, settings))
      return { farm: open, season: drafted, ordered: atHand.ordered }
    })
    const offer = valueOf(offered(season, ordered, today))
    const onProgress = (progress: SolveProgress) => engine.say({ kind: 'progress', progress, draft: id })
    const onFault = (what: string) => engine.noteBug('draft.solve', new Error(what))
    const solved = valueOf(await solveInThread(offer.season, { gap, seconds, onProgress, onFault, signal }))
    return engine.alone(async () => {
      requireSameFarm(engine, farm)
      // It may have been removed while it was solved.
      await draftSettings(farm.db, farm.seasonId, id)
      return inTransaction(farm.connection, null, () =>
        savePlan(farm.db, farm.seasonId, season, offer.whole(solved), id),
      )
    })
  })
}

/** Every draft, with what has changed since its plan was made and, where nothing fits, why. */
export async function draftsNow({ db, seasonId }: OpenFarm): Promise<DraftRow[]> {
  const rows = await listDrafts(db, seasonId)
  if (rows.every(({ plan }) => plan === null)) return rows
  const { season } = await seasonAtHand(db, seasonId)
  const now = async (row: DraftRow): Promise<DraftRow> => {
    const stored = row.plan === null ? null : await planById(db, seasonId, row.plan.id)
    if (stored === null) return row
    const drafted = draftSeason(season, row.settings)
    const { conflict } = stored.proof
    return {
      ...row,
      changed: drafted.ok ? changeTally(stored.input, drafted.value) : (drafted.problems[0]?.what ?? ''),
      clash: conflict === undefined ? null : { conflict, settling: waysToSettle(stored.input, conflict) },
    }
  }
  return Promise.all(rows.map(now))
}

/** A plan that was kept becomes the plan in hand again, with what is known of its reasons. In the caller's transaction. */
export async function adoptPlan({ db, seasonId }: OpenFarm, id: number): Promise<null> {
  const stored = await planById(db, seasonId, id)
  if (stored === null || stored.plan === null) throw new ProblemError([{ ...gone, where: { table: 'plan', id } }])
  if (!stored.isDraft) {
    await takeInHand(db, seasonId, id)
    return null
  }
  const reasons = await readReasons(db, id)
  const again = await savePlan(db, seasonId, stored.input, stored)
  await takeInHand(db, seasonId, again)
  if (reasons !== null) await saveReasons(db, again, reasons)
  return null
}

/** The draft's newest plan becomes the plan in hand. In the caller's transaction. */
export async function adoptDraft({ db, seasonId }: OpenFarm, id: number): Promise<null> {
  const { name } = await draftNamed(db, seasonId, id)
  const stored = await latestOfDraft(db, seasonId, id)
  if (stored === null || stored.plan === null) throw new ProblemError([notSolved])
  await takeInHand(db, seasonId, await savePlan(db, seasonId, stored.input, stored, null, name))
  return null
}

/** Of two kept plans by their ids, each on the season that it was made from; throws a Problem where one is gone. */
export async function comparePlans({ db, seasonId }: OpenFarm, a: number, b: number): Promise<Comparison> {
  const made = async (id: number): Promise<Made> => {
    const stored = await planById(db, seasonId, id)
    if (stored === null || stored.plan === null) throw new ProblemError([{ ...noPlan, where: { table: 'plan', id } }])
    return { plan: joined(stored.plan), input: stored.input }
  }
  return compare(await made(a), await made(b))
}

const notSolved: Problem = {
  code: 'missing',
  what: 'This draft has no plan yet.',
  remedy: 'Solve the draft first.',
}

const gone: Problem = {
  code: 'unknown-name',
  what: 'That plan is not there, or found nothing.',
  remedy: 'Work the plan out again.',
}

const noPlan: Problem = {
  code: 'unknown-name',
  what: 'One of the two plans is not there, or found nothing.',
  remedy: 'Choose two plans from the list.',
}
