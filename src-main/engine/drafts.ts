/** All SQL about drafts. A rule that is off is kept by its row, so that it goes on meaning it when it is renamed. */
import type { Kysely } from 'kysely'
import { sayDraft, type DraftRow, type DraftSettings } from '../../src-shared/draft.ts'
import type { Plan, Proof } from '../../src-shared/plan.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { renameWhatIf } from '../../src-shared/rename.ts'
import type { Rule, RuleKind } from '../../src-shared/rule.ts'
import { namesNow, renamedSince } from './db/names.ts'
import { withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** Every draft with its newest plan, by name. */
export async function listDrafts(db: Kysely<Tables>, seasonId: number): Promise<DraftRow[]> {
  const rows = await db
    .selectFrom('draft')
    .where('seasonId', '=', seasonId)
    .select(['id', 'name', 'createdAt', 'settings', 'names'])
    .orderBy('name')
    .execute()
  const drafts: DraftRow[] = []
  const rules = (await ruleRows(db).where('house_rule.seasonId', '=', seasonId).execute()).map(asRule)
  const now = await namesNow(db, seasonId)
  for (const { settings, names, ...row } of rows) {
    const { whatIfs, ...plain } = JSON.parse(settings) as Omit<DraftSettings, 'rulesOff'>
    const renamed = renamedSince(names, now)
    const whole = {
      ...plain,
      rulesOff: await rulesOff(db, row.id),
      whatIfs: renamed === null ? whatIfs : whatIfs.map((whatIf) => renameWhatIf(whatIf, renamed)),
    }
    drafts.push({
      ...row,
      settings: whole,
      says: sayDraft(whole, rules),
      plan: await newestPlan(db, row.id),
      changed: '',
      clash: null,
    })
  }
  return drafts
}

/** One of the drafts. */
export async function draftNamed(db: Kysely<Tables>, seasonId: number, id: number): Promise<DraftRow> {
  const draft = (await listDrafts(db, seasonId)).find((each) => each.id === id)
  if (!draft) throw gone(id)
  return draft
}

/** What a draft changes. */
export async function draftSettings(db: Kysely<Tables>, seasonId: number, id: number): Promise<DraftSettings> {
  return (await draftNamed(db, seasonId, id)).settings
}

async function rulesOff(db: Kysely<Tables>, draftId: number): Promise<DraftSettings['rulesOff']> {
  const rows = await ruleRows(db)
    .innerJoin('draft_rule_off', 'draft_rule_off.houseRuleId', 'house_rule.id')
    .where('draft_rule_off.draftId', '=', draftId)
    .execute()
  return rows.map(({ rule, subject }) => ({
    rule: rule as RuleKind,
    ...(subject === null ? {} : { subject }),
  }))
}

function ruleRows(db: Kysely<Tables>) {
  return db
    .selectFrom('house_rule')
    .leftJoin('variety', 'variety.id', 'house_rule.varietyId')
    .leftJoin('threat', 'threat.id', 'house_rule.threatId')
    .select(['house_rule.id', 'house_rule.rule', 'house_rule.amount'])
    .select(({ fn, ref }) =>
      fn.coalesce(ref('variety.name'), ref('threat.name'), ref('house_rule.subject')).as('subject'),
    )
    .orderBy('house_rule.id')
}

/** Enough of a rule to say it. */
function asRule({ rule, subject, amount }: { rule: string; subject: string | null; amount: number | null }): Rule {
  return { rule: rule as RuleKind, ...withoutNulls({ subject, amount }), isOn: true }
}

async function newestPlan(db: Kysely<Tables>, draftId: number): Promise<DraftRow['plan']> {
  const row = await db
    .selectFrom('plan')
    .where('draftId', '=', draftId)
    .select(['id', 'madeAt', 'proof', 'plan'])
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst()
  if (!row) return null
  const { status, says, conflict } = JSON.parse(row.proof) as Proof
  const totals = row.plan === null ? null : (JSON.parse(row.plan) as Plan).totals
  return { id: row.id, madeAt: row.madeAt, proof: { status, says, ...(conflict ? { conflict } : {}) }, totals }
}

/** A new draft, or a change to one. In the caller's transaction. @returns its id */
export async function saveDraft(
  db: Kysely<Tables>,
  seasonId: number,
  id: number | undefined,
  name: string,
  settings: DraftSettings,
): Promise<number> {
  await checkName(db, seasonId, id, name)
  const { rulesOff: off, ...rest } = settings
  const text = JSON.stringify(rest)
  const names = await namesNow(db, seasonId)
  const draftId = id === undefined ? await insertDraft(db, { seasonId, name, settings: text, names }) : id
  if (id !== undefined) {
    const { numUpdatedRows } = await db
      .updateTable('draft')
      .set({ name, settings: text, names })
      .where('id', '=', id)
      .where('seasonId', '=', seasonId)
      .executeTakeFirst()
    if (numUpdatedRows === 0n) throw gone(id)
  }
  await db.deleteFrom('draft_rule_off').where('draftId', '=', draftId).execute()
  const rules = await ruleRows(db).where('house_rule.seasonId', '=', seasonId).execute()
  const ids = new Set<number>()
  for (const { rule, subject } of off) {
    const own = rules.filter((row) => row.rule === rule && (row.subject ?? undefined) === subject)
    if (own.length === 0) throw new ProblemError([noSuchRule(rule, subject)])
    for (const row of own) ids.add(row.id)
  }
  for (const houseRuleId of ids) await db.insertInto('draft_rule_off').values({ draftId, houseRuleId }).execute()
  return draftId
}

async function insertDraft(
  db: Kysely<Tables>,
  draft: { seasonId: number; name: string; settings: string; names: string },
): Promise<number> {
  const { id } = await db
    .insertInto('draft')
    .values({ ...draft, createdAt: new Date().toISOString() })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** The same changes under another name; its plans stay with the first. @returns the id of the new one */
export async function duplicateDraft(db: Kysely<Tables>, seasonId: number, id: number, name: string): Promise<number> {
  return saveDraft(db, seasonId, undefined, name, await draftSettings(db, seasonId, id))
}

/** The draft goes, and its plans with it. */
export async function removeDraft(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('draft')
    .where('id', '=', id)
    .where('seasonId', '=', seasonId)
    .executeTakeFirst()
  if (numDeletedRows === 0n) throw gone(id)
}

async function checkName(db: Kysely<Tables>, seasonId: number, id: number | undefined, name: string): Promise<void> {
  const same = await db
    .selectFrom('draft')
    .where('seasonId', '=', seasonId)
    .where('name', '=', name)
    .select('id')
    .executeTakeFirst()
  if (same === undefined || same.id === id) return
  throw new ProblemError([
    {
      code: 'repeated-name',
      what: `There is a draft named “${name}” already.`,
      where: { table: 'draft', name },
      remedy: 'Choose another name.',
    },
  ])
}

function gone(id: number): ProblemError {
  return new ProblemError([
    {
      code: 'unknown-name',
      what: 'That draft is not there any more.',
      where: { table: 'draft', id },
      remedy: 'Look at the list of drafts again.',
    },
  ])
}

function noSuchRule(rule: RuleKind, subject: string | undefined) {
  return {
    code: 'unknown-name' as const,
    what: `The season has no rule “${rule}”${subject === undefined ? '' : ` about ${subject}`} that could be off.`,
    where: { table: 'rule', rule },
    remedy: 'Look at the house rules again.',
  }
}
