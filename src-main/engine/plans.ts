/** All SQL about plans: each is kept with its proof and with the season it was made from. */
import type { Kysely } from 'kysely'
import { createHash } from 'node:crypto'
import type { Plan, Proof, SolvedPlan } from '../../src-shared/plan.ts'
import type { Reasons } from '../../src-shared/reasons.ts'
import { seasonOfNow } from '../../src-shared/former-rules.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import type { Season } from '../../src-shared/season.ts'
import { renamePlan, renameProof, renameReasons, renameSeason } from '../../src-shared/rename.ts'
import { namesNow, renamedSince } from './db/names.ts'
import type { Tables } from './db/tables.ts'

export interface StoredPlan extends SolvedPlan {
  id: number
  madeAt: string
  /** The season as it was when the plan was made. */
  input: Season
  isDraft: boolean
}

/** One that found a plan. */
export type FoundPlan = StoredPlan & { plan: Plan }

/** Keeps the season that a plan was made from, once for all plans of the same data. @returns SHA-256 of it and of whose names are in it */
async function keepInput(db: Kysely<Tables>, seasonId: number, input: Season): Promise<string> {
  // No plan looks at the outline of a field, and outlines are most of a season's text.
  const fields = input.fields.map(({ boundary: _, ...field }) => field)
  const season = JSON.stringify({ ...input, fields })
  const names = await namesNow(db, seasonId)
  const hash = createHash('sha256').update(season).update(names).digest('hex')
  await db
    .insertInto('plan_input')
    .values({ hash, season, names })
    .onConflict((conflict) => conflict.column('hash').doNothing())
    .execute()
  return hash
}

/** Keeps a solved plan, and its purchases as rows, in the caller's transaction. */
export async function savePlan(
  db: Kysely<Tables>,
  seasonId: number,
  input: Season,
  solved: SolvedPlan,
  draftId: number | null = null,
  fromDraft: string | null = null,
): Promise<number> {
  const { plan, proof } = solved
  const inputHash = await keepInput(db, seasonId, input)
  const { id } = await db
    .insertInto('plan')
    .values({
      seasonId,
      draftId,
      fromDraft,
      madeAt: new Date().toISOString(),
      proof: JSON.stringify(proof),
      plan: plan === null ? null : JSON.stringify(plan),
      inputHash,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  if (plan !== null) await savePurchases(db, seasonId, id, plan)
  return id
}

/** Which quotes a plan buys from, as rows: a quote may get another title. */
async function savePurchases(db: Kysely<Tables>, seasonId: number, planId: number, plan: Plan): Promise<void> {
  const quotes = await db
    .selectFrom('quote')
    .innerJoin('dealer', 'dealer.id', 'quote.dealerId')
    .innerJoin('variety', 'variety.id', 'quote.varietyId')
    .where('quote.seasonId', '=', seasonId)
    .select(['quote.id', 'quote.name', 'dealer.name as dealer', 'variety.name as variety'])
    .execute()
  const ids = new Map(quotes.map(({ id, name, ...quote }) => [quoteTitle({ ...quote, name: name ?? undefined }), id]))
  for (const { onOrderOf, ...purchase } of plan.purchases) {
    await db
      .insertInto('plan_purchase')
      .values({ planId, quoteId: ids.get(onOrderOf ?? purchase.quote) ?? null, ...purchase })
      .execute()
  }
}

/** The newest solve of a draft, whatever it found; null where it was never solved. */
export async function latestOfDraft(db: Kysely<Tables>, seasonId: number, draftId: number): Promise<StoredPlan | null> {
  const row = await plansOf(db, seasonId)
    .where('draftId', '=', draftId)
    .orderBy('plan.id', 'desc')
    .limit(1)
    .executeTakeFirst()
  return row ? storedPlan(row, await namesNow(db, seasonId)) : null
}

/** Which of the kept plans the farm goes by, and the last solve that did not become it. */
interface InHand {
  planId: number | null
  attemptId: number | null
}

const inHandKey = (seasonId: number) => `plan in hand, season ${seasonId}`

async function readInHand(db: Kysely<Tables>, seasonId: number): Promise<InHand> {
  const row = await db.selectFrom('setting').where('key', '=', inHandKey(seasonId)).select('value').executeTakeFirst()
  return row ? (JSON.parse(row.value) as InHand) : { planId: null, attemptId: null }
}

/** An earlier attempt is of no more use: it is deleted, unless it is the plan in hand now. */
async function setInHand(db: Kysely<Tables>, seasonId: number, now: InHand): Promise<void> {
  const { attemptId } = await readInHand(db, seasonId)
  if (attemptId !== null && attemptId !== now.planId && attemptId !== now.attemptId) {
    await db.deleteFrom('plan').where('id', '=', attemptId).execute()
  }
  const value = JSON.stringify(now)
  await db
    .insertInto('setting')
    .values({ key: inHandKey(seasonId), value })
    .onConflict((conflict) => conflict.column('key').doUpdateSet({ value }))
    .execute()
}

/** Goes by this plan of the season from now on. In the caller's transaction. */
export async function takeInHand(db: Kysely<Tables>, seasonId: number, planId: number): Promise<void> {
  await setInHand(db, seasonId, { planId, attemptId: null })
}

/** Notes a solve that did not become the plan in hand, which stays. In the caller's transaction. */
export async function noteAttempt(db: Kysely<Tables>, seasonId: number, attemptId: number): Promise<void> {
  const hand = await planInHand(db, seasonId)
  await setInHand(db, seasonId, { planId: hand?.id ?? null, attemptId })
}

/** The plan that the farm goes by: the one taken last, else the newest that found one. Null where there is none. */
export async function planInHand(db: Kysely<Tables>, seasonId: number): Promise<FoundPlan | null> {
  const id = await planInHandId(db, seasonId)
  const stored = id === null ? null : await planById(db, seasonId, id)
  return stored?.plan ? { ...stored, plan: stored.plan } : null
}

/** Its id alone, for those who only ask which it is. */
export async function planInHandId(db: Kysely<Tables>, seasonId: number): Promise<number | null> {
  const { planId, attemptId } = await readInHand(db, seasonId)
  const ids = () => found(db, seasonId).clearSelect().select('plan.id')
  const taken = planId === null ? undefined : await ids().where('plan.id', '=', planId).executeTakeFirst()
  const newest = ids()
    .where('plan.id', '!=', attemptId ?? -1)
    .orderBy('plan.id', 'desc')
    .limit(1)
  return (taken ?? (await newest.executeTakeFirst()))?.id ?? null
}

/** The last solve, where it did not become the plan in hand; null where it did. */
export async function lastAttempt(db: Kysely<Tables>, seasonId: number): Promise<StoredPlan | null> {
  const { attemptId } = await readInHand(db, seasonId)
  return attemptId === null ? null : planById(db, seasonId, attemptId)
}

/** Solves of the season that found a plan. */
function found(db: Kysely<Tables>, seasonId: number) {
  return plansOf(db, seasonId).where('draftId', 'is', null).where('plan', 'is not', null)
}

/** One plan, of the season or of a draft; null where it is gone. */
export async function planById(db: Kysely<Tables>, seasonId: number, id: number): Promise<StoredPlan | null> {
  const row = await plansOf(db, seasonId).where('plan.id', '=', id).executeTakeFirst()
  return row ? storedPlan(row, await namesNow(db, seasonId)) : null
}

function plansOf(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('plan')
    .innerJoin('plan_input', 'plan_input.hash', 'plan.inputHash')
    .where('seasonId', '=', seasonId)
    .select(['plan.id', 'madeAt', 'draftId', 'proof', 'plan', 'plan_input.season as input', 'plan_input.names'])
}

interface PlanText {
  id: number
  madeAt: string
  draftId: number | null
  proof: string
  plan: string | null
  input: string
  names: string
}

/** Under the names that its fields, varieties and the rest have now. */
function storedPlan(row: PlanText, now: string): StoredPlan {
  const known = { id: row.id, madeAt: row.madeAt, isDraft: row.draftId !== null }
  const proof = JSON.parse(row.proof) as Proof
  const plan = row.plan === null ? null : (JSON.parse(row.plan) as Plan)
  const input = seasonOfNow(JSON.parse(row.input) as Season)
  const renamed = renamedSince(row.names, now)
  if (renamed === null) return { ...known, proof, plan, input }
  return {
    ...known,
    proof: renameProof(proof, renamed),
    plan: plan === null ? null : renamePlan(plan, renamed),
    input: renameSeason(input, renamed),
  }
}

/** The quotes that a plan buys, by title: those whose rows are there still. */
export async function quoteIdsOf(db: Kysely<Tables>, { id, plan }: FoundPlan): Promise<Map<string, number | null>> {
  const rows = await db.selectFrom('plan_purchase').where('planId', '=', id).select('quoteId').orderBy('id').execute()
  // Written in the plan's order, under the titles of then.
  return new Map(plan.purchases.map(({ quote }, at) => [quote, rows[at]?.quoteId ?? null]))
}

function namedReasons(db: Kysely<Tables>, planId: number) {
  return db
    .selectFrom('plan')
    .innerJoin('plan_input', 'plan_input.hash', 'plan.inputHash')
    .where('plan.id', '=', planId)
    .select(['plan.seasonId', 'reasons', 'names'])
    .executeTakeFirst()
}

/** What was found out about a plan, or null. */
export async function readReasons(db: Kysely<Tables>, planId: number): Promise<Reasons | null> {
  const row = await namedReasons(db, planId)
  if (!row?.reasons) return null
  const reasons = JSON.parse(row.reasons) as Reasons
  const renamed = renamedSince(row.names, await namesNow(db, row.seasonId))
  return renamed === null ? reasons : renameReasons(reasons, renamed)
}

/** Keeps what was found out about a plan with it, under the names that the plan was stored by. */
export async function saveReasons(db: Kysely<Tables>, planId: number, reasons: Reasons): Promise<void> {
  const of = await namedReasons(db, planId)
  const renamed = of === undefined ? null : renamedSince(await namesNow(db, of.seasonId), of.names)
  await db
    .updateTable('plan')
    .set({ reasons: JSON.stringify(renamed === null ? reasons : renameReasons(reasons, renamed)) })
    .where('id', '=', planId)
    .execute()
}

/** The plans made next before and after this one; attempts that were not taken are passed over. */
export async function plansBeside(
  db: Kysely<Tables>,
  seasonId: number,
  planId: number,
): Promise<{ before: { id: number; totals: Plan['totals'] } | null; afterId: number | null }> {
  const { attemptId } = await readInHand(db, seasonId)
  const others = () => found(db, seasonId).where('plan.id', '!=', attemptId ?? -1)
  const before = await others().where('plan.id', '<', planId).orderBy('plan.id', 'desc').limit(1).executeTakeFirst()
  const after = await others().where('plan.id', '>', planId).orderBy('plan.id').limit(1).executeTakeFirst()
  const totals = before?.plan ? (JSON.parse(before.plan) as Plan).totals : null
  return { before: before && totals ? { id: before.id, totals } : null, afterId: after?.id ?? null }
}
