/** A draft: one planned alternative. The season as it stands, with changes on top that touch nothing else. */
import * as v from 'valibot'
import { withWhatIfs } from './apply-what-if.ts'
import type { Conflict, PlanTotals, Proof, Settling } from './plan.ts'
import { between, nameText } from './primitive.ts'
import { ok, type Result } from './problem.ts'
import { ruleKinds, type Rule, type RuleKind } from './rule.ts'
import type { Season } from './season.ts'
import { sayWhatIf, whatIfSchema, type WhatIf } from './what-if.ts'

export const draftSettingsSchema = v.strictObject({
  /** [$ of cash a dollar of expected loss counts]; absent: the season's. */
  riskWeight: v.optional(between(0, 1000)),
  /** Rules of the season that are off here. */
  rulesOff: v.optional(
    v.array(
      v.strictObject({
        rule: v.picklist(Object.keys(ruleKinds) as [RuleKind, ...RuleKind[]], 'is not a rule that Standwell knows'),
        subject: v.optional(nameText),
      }),
    ),
    [],
  ),
  whatIfs: v.optional(v.pipe(v.array(whatIfSchema), v.maxLength(200)), []),
})

export type DraftSettings = v.InferOutput<typeof draftSettingsSchema>

export interface DraftRow {
  id: number
  name: string
  /** ISO time. */
  createdAt: string
  settings: DraftSettings
  /** Every change as a sentence. */
  says: string[]
  /** The newest plan of the draft; null where it was never solved. */
  plan: {
    id: number
    madeAt: string
    proof: Pick<Proof, 'status' | 'says' | 'conflict'>
    totals: PlanTotals | null
  } | null
  /** What has changed, counted, since its plan was made: of the season or of the draft itself; empty where nothing has. */
  changed: string
  /** Where nothing fits: which rules clash, and what would settle it on top of the draft. */
  clash: { conflict: Conflict; settling: Settling[] } | null
}

/** The season as the draft sees it; problems for what it names and the season does not have. */
export function draftSeason(season: Season, { riskWeight, rulesOff, whatIfs }: DraftSettings): Result<Season> {
  const off: WhatIf[] = rulesOff.map((each) => ({ kind: 'rule-off', ...each }))
  const changed = withWhatIfs(season, [...off, ...whatIfs])
  return changed.ok && riskWeight !== undefined ? ok(withRiskWeight(changed.value, riskWeight)) : changed
}

function withRiskWeight(season: Season, amount: number): Season {
  const others = season.rules.filter((rule) => rule.rule !== 'risk-weight')
  return { ...season, rules: [{ rule: 'risk-weight', amount, isOn: true }, ...others] }
}

/** Every change as a sentence. @param rules of the season, where they are known: they are then said with their amounts */
export function sayDraft({ riskWeight, rulesOff, whatIfs }: DraftSettings, rules: readonly Rule[] = []): string[] {
  return [
    ...(riskWeight === undefined ? [] : [`A dollar of expected loss counts as ${riskWeight} dollars of cash.`]),
    ...rulesOff.map((each) => sayWhatIf({ kind: 'rule-off', ...each }, rules)),
    ...whatIfs.map((each) => sayWhatIf(each, rules)),
  ]
}
