/** All SQL about house rules and assumptions: what the manager will not do, and what everything is taken to cost. */
import type { Kysely } from 'kysely'
import type { Assumption } from '../../src-shared/assumption.ts'
import type { Rule, RuleKind } from '../../src-shared/rule.ts'
import { byText, withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** Every rule, sorted by rule and subject; of two about the same the older comes first. */
export async function listRules(db: Kysely<Tables>, seasonId: number): Promise<(Rule & { id: number })[]> {
  const rows = await db
    .selectFrom('house_rule')
    .leftJoin('variety', 'variety.id', 'house_rule.varietyId')
    .leftJoin('threat', 'threat.id', 'house_rule.threatId')
    .where('house_rule.seasonId', '=', seasonId)
    .select(['house_rule.id', 'house_rule.rule', 'house_rule.amount', 'house_rule.isOn', 'house_rule.note'])
    .select(({ fn, ref }) =>
      fn.coalesce(ref('variety.name'), ref('threat.name'), ref('house_rule.subject')).as('subject'),
    )
    .orderBy('house_rule.id')
    .execute()
  return rows
    .map(({ isOn, rule, ...plain }) => ({ rule: rule as RuleKind, ...withoutNulls(plain), isOn: isOn === 1 }))
    .sort(byText((rule) => JSON.stringify([rule.rule, rule.subject ?? ''])))
}

/** The same without ids, as a season has them. */
export async function readRules(db: Kysely<Tables>, seasonId: number): Promise<Rule[]> {
  return (await listRules(db, seasonId)).map(({ id: _, ...rule }) => rule)
}

/** The rows that replace the regional starter set, sorted by key. */
export async function readAssumptions(db: Kysely<Tables>, seasonId: number): Promise<Assumption[]> {
  const rows = await db
    .selectFrom('assumption')
    .where('seasonId', '=', seasonId)
    .select(['key', 'numberValue', 'wordValue', 'unit', 'low', 'high', 'affects', 'source', 'sourceKind'])
    .execute()
  return rows
    .map(({ numberValue, wordValue, ...plain }): Assumption => ({
      ...withoutNulls(plain),
      value: numberValue ?? wordValue ?? '',
    }))
    .sort(byText((row) => row.key))
}
