/** All SQL about plans: each is kept with its proof and with the season it was made from. */
import type { Kysely } from 'kysely'
import { createHash } from 'node:crypto'
import type { Plan, Proof, SolvedPlan } from '../../src-shared/plan.ts'
import type { Reasons } from '../../src-shared/reasons.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import type { Season } from '../../src-shared/season.ts'
import type { Tables } from './db/tables.ts'

export interface StoredPlan extends SolvedPlan {
  id: number
  madeAt: string
  /** The season as it was when the plan was made. */
  input: Season
}

/** SHA-256 of the season as gathered; the same numbers give the same hash. */
export function inputHash(season: Season): string {
  return createHash('sha256').update(JSON.stringify(season)).digest('hex')
}

/** Keeps a solved plan, its blocks and purchases as rows, in the caller's transaction. */
export async function savePlan(
  db: Kysely<Tables>,
  seasonId: number,
  input: Season,
  solved: SolvedPlan,
  draftId: number | null = null,
  fromDraft: string | null = null,
): Promise<number> {
  const { plan, proof } = solved
  const { id } = await db
    .insertInto('plan')
    .values({
      seasonId,
      draftId,
      fromDraft,
      madeAt: new Date().toISOString(),
      status: proof.status,
      costCents: wholeOrNull(proof.costCents),
      boundCents: wholeOrNull(proof.boundCents),
      gap: proof.gap,
      proof: JSON.stringify(proof),
      plan: plan === null ? null : JSON.stringify(plan),
      input: JSON.stringify(input),
      inputHash: inputHash(input),
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  if (plan !== null) await saveRows(db, seasonId, id, plan)
  return id
}

/** A bound may have a fraction of a cent; the whole of it is in the proof. */
function wholeOrNull(cents: number | null): number | null {
  return cents === null ? null : Math.round(cents)
}

async function saveRows(db: Kysely<Tables>, seasonId: number, planId: number, plan: Plan): Promise<void> {
  const ids = await idsOf(db, seasonId)
  for (const { programme, ...block } of plan.blocks) {
    const cents = {
      cashCents: Math.round(block.cashCents),
      lossCents: Math.round(block.lossCents),
      vineCents: Math.round(block.vineCents),
      giveUpCents: Math.round(block.giveUpCents),
    }
    await db
      .insertInto('plan_block')
      .values({
        planId,
        fieldSeasonId: ids.field.get(block.field) ?? null,
        varietyId: ids.variety.get(block.variety) ?? null,
        windowId: ids.window.get(block.window) ?? null,
        programme: JSON.stringify(programme),
        ...block,
        ...cents,
      })
      .execute()
  }
  for (const { onOrderOf, ...purchase } of plan.purchases) {
    await db
      .insertInto('plan_purchase')
      .values({ planId, quoteId: ids.quote.get(onOrderOf ?? purchase.quote) ?? null, ...purchase })
      .execute()
  }
}

async function idsOf(db: Kysely<Tables>, seasonId: number) {
  const fields = await db
    .selectFrom('field_season')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .where('field_season.seasonId', '=', seasonId)
    .select(['field.name', 'field_season.id'])
    .execute()
  const varieties = await db.selectFrom('variety').where('seasonId', '=', seasonId).select(['name', 'id']).execute()
  const windows = await db
    .selectFrom('planting_window')
    .where('seasonId', '=', seasonId)
    .select(['name', 'id'])
    .execute()
  const quotes = await db
    .selectFrom('quote')
    .innerJoin('dealer', 'dealer.id', 'quote.dealerId')
    .innerJoin('variety', 'variety.id', 'quote.varietyId')
    .where('quote.seasonId', '=', seasonId)
    .select(['quote.id', 'quote.name', 'dealer.name as dealer', 'variety.name as variety'])
    .execute()
  const byName = (rows: readonly { name: string; id: number }[]) => new Map(rows.map((row) => [row.name, row.id]))
  const titled = quotes.map(({ id, name, ...quote }) => ({
    id,
    name: quoteTitle({ ...quote, name: name ?? undefined }),
  }))
  return { field: byName(fields), variety: byName(varieties), window: byName(windows), quote: byName(titled) }
}

/** The plan made last from the season as it stands, or the last of a draft; null where there is none. */
export async function latestPlan(
  db: Kysely<Tables>,
  seasonId: number,
  draftId: number | null = null,
): Promise<StoredPlan | null> {
  const row = await plansOf(db, seasonId)
    .where('draftId', draftId === null ? 'is' : '=', draftId)
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst()
  return row ? storedPlan(row) : null
}

/** One plan, of the season or of a draft; null where it is gone. */
export async function planById(db: Kysely<Tables>, seasonId: number, id: number): Promise<StoredPlan | null> {
  const row = await plansOf(db, seasonId).where('id', '=', id).executeTakeFirst()
  return row ? storedPlan(row) : null
}

function plansOf(db: Kysely<Tables>, seasonId: number) {
  return db.selectFrom('plan').where('seasonId', '=', seasonId).select(['id', 'madeAt', 'proof', 'plan', 'input'])
}

function storedPlan(row: {
  id: number
  madeAt: string
  proof: string
  plan: string | null
  input: string
}): StoredPlan {
  return {
    id: row.id,
    madeAt: row.madeAt,
    proof: JSON.parse(row.proof) as Proof,
    plan: row.plan === null ? null : (JSON.parse(row.plan) as Plan),
    input: JSON.parse(row.input) as Season,
  }
}

/** What was found out about a plan, or null. */
export async function readReasons(db: Kysely<Tables>, planId: number): Promise<Reasons | null> {
  const row = await db.selectFrom('plan').where('id', '=', planId).select('reasons').executeTakeFirst()
  return row?.reasons ? (JSON.parse(row.reasons) as Reasons) : null
}

/** Keeps what was found out about a plan with it. */
export async function saveReasons(db: Kysely<Tables>, planId: number, reasons: Reasons): Promise<void> {
  await db
    .updateTable('plan')
    .set({ reasons: JSON.stringify(reasons) })
    .where('id', '=', planId)
    .execute()
}

/** The last plan made before this one, or null; a solve that found nothing is passed over. */
export async function planBefore(
  db: Kysely<Tables>,
  seasonId: number,
  planId: number,
): Promise<{ id: number; totals: Plan['totals'] } | null> {
  const row = await db
    .selectFrom('plan')
    .where('seasonId', '=', seasonId)
    .where('id', '<', planId)
    .where('draftId', 'is', null)
    .where('plan', 'is not', null)
    .select(['id', 'plan'])
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst()
  return row?.plan ? { id: row.id, totals: (JSON.parse(row.plan) as Plan).totals } : null
}
