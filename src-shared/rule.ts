/** House rules: what the manager will not do, each a row that can be switched off. */
import * as v from 'valibot'
import { between, nameText, note } from './primitive.ts'

/** What a rule is about and the unit of its amount. The sentence is how a person would say it. */
export const ruleKinds = {
  'risk-weight': {
    unit: '× expected loss',
    subject: null,
    says: 'A dollar of expected loss counts as {amount} dollars of cash.',
  },
  'yield-left-out': { unit: null, subject: null, says: 'Leave yield out of the plan; count only costs and losses.' },
  'choose-rate': { unit: null, subject: null, says: 'Let the plan choose the seeding rate.' },
  reserve: { unit: 'share', subject: null, says: 'Order {amount} more seed than the rates call for.' },
  /** Takes the place of a fixed reserve where both are on; see `houseReserve`. */
  'reserve-by-chance': {
    unit: null,
    subject: null,
    says: 'Order the reserve at which running short and seed left over weigh the same.',
  },
  'largest-share': { unit: 'share', subject: 'variety?', says: 'No more than {amount} of the acres in {subject}.' },
  'fewest-varieties': { unit: 'varieties', subject: null, says: 'Plant at least {amount} varieties.' },
  'most-varieties': { unit: 'varieties', subject: null, says: 'Plant no more than {amount} varieties.' },
  'most-dealers': { unit: 'dealers', subject: null, says: 'Order from no more than {amount} dealers.' },
  budget: { unit: 'cents', subject: null, says: 'Spend no more than {amount} on seed and measures.' },
  contract: { unit: 'acres', subject: 'oil type', says: 'Plant at least {amount} of {subject}.' },
  'insured-planting': { unit: null, subject: null, says: 'Plant nothing after the last insurable planting day.' },
  'planter-hours': { unit: null, subject: null, says: 'Plant no more in a week than the planters can.' },
  'digger-hours': { unit: null, subject: null, says: 'Dig no more in a week than the diggers can.' },
  'combine-hours': { unit: null, subject: null, says: 'Combine no more in a week than the combines can.' },
  'largest-loss': { unit: 'share', subject: 'threat', says: 'Lose no more than {amount} of any field to {subject}.' },
  'nematode-threshold': {
    unit: 'per 100 cc',
    subject: null,
    says: 'From {amount} nematodes per 100 cc on, plant a resistant variety or use a nematicide.',
  },
  'early-rating': {
    unit: 'rating',
    subject: 'threat',
    says: 'In an early window plant nothing rated worse than {amount} for {subject}.',
  },
  'early-twin-rows': { unit: null, subject: null, says: 'In an early window plant twin rows only.' },
  'early-stand': {
    unit: 'plants/ft',
    subject: null,
    says: 'In an early window aim for at least {amount} plants a foot.',
  },
  'early-measure': { unit: null, subject: 'measure group', says: 'In an early window use {subject}.' },
  'always-measure': { unit: null, subject: 'measure group', says: 'Use {subject} on every field.' },
  'may-rest': {
    unit: 'cents/acre',
    subject: null,
    says: 'A field may be left out where its crop makes less than the ground brings otherwise: {amount} an acre.',
  },
  'stay-put': { unit: 'cents', subject: null, says: 'Do not move a field for less than {amount}.' },
} as const

export type RuleKind = keyof typeof ruleKinds

/** The rule's sentence with these words in its gaps. */
export function ruleSentence(kind: RuleKind, subject: string, amount: string): string {
  const says = amount === '1' ? oneOnly(ruleKinds[kind].says) : ruleKinds[kind].says
  return says.replace('{subject}', () => subject).replaceAll('{amount}', () => amount)
}

/** "{amount} varieties" → "{amount} variety". */
function oneOnly(says: string): string {
  return says.replace('{amount} varieties', '{amount} variety').replace('{amount} dealers', '{amount} dealer')
}

/** Kinds of rule that forbid options. */
export const optionRules: readonly RuleKind[] = [
  'largest-loss',
  'nematode-threshold',
  'early-rating',
  'early-twin-rows',
  'early-stand',
  'early-measure',
  'always-measure',
  'insured-planting',
]

export const ruleSchema = v.strictObject({
  rule: v.picklist(Object.keys(ruleKinds) as [RuleKind, ...RuleKind[]], 'is not a rule that Standwell knows'),
  subject: v.optional(nameText),
  amount: v.optional(between(0, 10_000_000_000)),
  isOn: v.optional(v.boolean(), true),
  note: v.optional(note),
})

export type Rule = v.InferOutput<typeof ruleSchema>

/** The rule that is on, or undefined; with a subject, the one about it. */
export function ruleOf(rules: readonly Rule[], kind: RuleKind, subject?: string): Rule | undefined {
  return rules.find((rule) => rule.isOn && rule.rule === kind && (subject === undefined || rule.subject === subject))
}

/** All rules of a kind that are on. */
export function rulesOn(rules: readonly Rule[], kind: RuleKind): Rule[] {
  return rules.filter((rule) => rule.isOn && rule.rule === kind)
}
