/** What-ifs: single changes to a season, as data, each with the sentence a person would say. `apply-what-if.ts` applies them. */
import * as v from 'valibot'
import { between, fraction, nameText, wholeBetween, words } from './primitive.ts'
import { ruleKinds, ruleSentence, type Rule, type RuleKind } from './rule.ts'
import { showCents, showPercent, showWhole } from './show.ts'
import { machineKinds } from './window.ts'

const ruleName = v.picklist(Object.keys(ruleKinds) as [RuleKind, ...RuleKind[]], 'is not a rule that Standwell knows')
const title = words(250)

export const whatIfSchema = v.variant('kind', [
  /** Prices up or down by so many percent, breaks too: of a quote, a variety, a dealer, or of those named together. */
  v.strictObject({
    kind: v.literal('price'),
    quote: v.optional(title),
    variety: v.optional(nameText),
    dealer: v.optional(nameText),
    percent: between(-100, 1000),
  }),
  /** Nobody can deliver it, and what is carried is gone. */
  v.strictObject({ kind: v.literal('variety-gone'), variety: nameText }),
  v.strictObject({ kind: v.literal('rule-off'), rule: ruleName, subject: v.optional(nameText) }),
  v.strictObject({ kind: v.literal('rule-on'), rule: ruleName, subject: v.optional(nameText) }),
  /** The rule's amount, more or less by so much, in the rule's own unit; never below 0. */
  v.strictObject({
    kind: v.literal('rule-by'),
    rule: ruleName,
    subject: v.optional(nameText),
    by: between(-1e10, 1e10),
  }),
  /** Packs that a quote can deliver; null for as many as wanted. */
  v.strictObject({
    kind: v.literal('packs'),
    quote: title,
    availablePacks: v.nullable(wholeBetween(0, 1_000_000)),
  }),
  /** Pounds that a dealer delivers; null for as many as wanted. */
  v.strictObject({
    kind: v.literal('delivers'),
    dealer: nameText,
    mostPounds: v.nullable(between(0, 100_000_000)),
  }),
  v.strictObject({ kind: v.literal('lock'), field: nameText, variety: nameText, window: v.optional(nameText) }),
  v.strictObject({ kind: v.literal('unlock'), field: nameText }),
  v.strictObject({
    kind: v.literal('exclude'),
    field: v.optional(nameText),
    variety: v.optional(nameText),
    window: v.optional(nameText),
  }),
  /** Takes back what was ruled out: exactly this field, variety and window, as they were named together. */
  v.strictObject({
    kind: v.literal('allow'),
    field: v.optional(nameText),
    variety: v.optional(nameText),
    window: v.optional(nameText),
  }),
  /** Carried seed may stay unused, or so much of it. */
  v.strictObject({ kind: v.literal('may-stay'), variety: nameText, pounds: v.optional(between(0, 100_000_000)) }),
  /** The largest share of the acres for one variety, whatever holds for the others. */
  v.strictObject({ kind: v.literal('share'), variety: nameText, share: fraction }),
  /** [hour] more that every machine of a kind works on a fit day; fewer where it is negative. */
  v.strictObject({ kind: v.literal('longer-days'), machine: v.picklist(machineKinds), hours: between(-24, 24) }),
  /** Germination expected of a variety. */
  v.strictObject({ kind: v.literal('germination'), variety: nameText, germination: fraction }),
])

export type WhatIf = v.InferOutput<typeof whatIfSchema>

/**
 * The change as a person would say it.
 * @param rules of the season, where they are known: a rule is then said with its amount
 */
export function sayWhatIf(whatIf: WhatIf, rules: readonly Rule[] = []): string {
  switch (whatIf.kind) {
    case 'price': {
      const what = [whatIf.quote, whatIf.variety, whatIf.dealer].filter((part) => part !== undefined).join(' from ')
      const way = whatIf.percent >= 0 ? 'dearer' : 'cheaper'
      return `${what === '' ? 'All seed' : what} is ${Math.abs(whatIf.percent)} % ${way}.`
    }
    case 'variety-gone':
      return `${whatIf.variety} cannot be had.`
    case 'rule-off':
      return `Without the rule: ${sayRule(whatIf, rules)}`
    case 'rule-on':
      return `With the rule: ${sayRule(whatIf, rules)}`
    case 'rule-by':
      return `${sayRule(whatIf, rules)} By ${sayAmount(whatIf.rule, Math.abs(whatIf.by))} ${whatIf.by >= 0 ? 'more' : 'less'}.`
    case 'packs':
      return whatIf.availablePacks === null
        ? `${whatIf.quote}: as many packs as wanted.`
        : `${whatIf.quote}: ${whatIf.availablePacks} packs can be had.`
    case 'delivers':
      return whatIf.mostPounds === null
        ? `${whatIf.dealer} delivers as much as wanted.`
        : `${whatIf.dealer} delivers no more than ${whatIf.mostPounds} pounds.`
    case 'lock':
      return `${whatIf.field} is kept for ${whatIf.variety}${whatIf.window === undefined ? '' : ` in the ${whatIf.window} window`}.`
    case 'unlock':
      return `${whatIf.field} is not kept for anything.`
    case 'exclude': {
      const { field, variety = 'Nothing', window } = whatIf
      const where = `${field === undefined ? '' : ` on ${field}`}${window === undefined ? '' : ` in the ${window} window`}`
      return `${variety} is ${variety === 'Nothing' ? '' : 'not '}planted${where}.`
    }
    case 'allow': {
      const { field, variety = 'Anything', window } = whatIf
      return `${variety} may be planted${field === undefined ? '' : ` on ${field}`}${window === undefined ? '' : ` in the ${window} window`}.`
    }
    case 'may-stay':
      return whatIf.pounds === undefined
        ? `Seed of ${whatIf.variety} on hand may stay unused.`
        : `${showWhole(Math.ceil(whatIf.pounds))} pounds of ${whatIf.variety} on hand may stay unused.`
    case 'share':
      return whatIf.share >= 1
        ? `Any share of the acres may be in ${whatIf.variety}.`
        : `No more than ${showPercent(whatIf.share)} of the acres in ${whatIf.variety}.`
    case 'longer-days': {
      const hours = Number(Math.abs(whatIf.hours).toFixed(2))
      return `Each ${whatIf.machine} works ${hours} ${hours === 1 ? 'hour' : 'hours'} a day ${whatIf.hours >= 0 ? 'longer' : 'less'}.`
    }
    case 'germination':
      return `${whatIf.variety} germinates at ${Number((whatIf.germination * 100).toFixed(1))} %.`
  }
}

function sayRule({ rule, subject }: { rule: RuleKind; subject?: string }, rules: readonly Rule[]): string {
  const amount = rules.find((each) => each.rule === rule && each.subject === subject)?.amount
  return ruleSentence(rule, subject ?? 'any variety', amount === undefined ? '…' : sayPlainAmount(rule, amount))
}

/** The rule in force, as a person would say it. */
export function sayRuleInForce(rule: Rule): string {
  return sayRule(rule, [rule])
}

/** Where the sentence itself names the unit, as "from 10 nematodes per 100 cc on", it is not said twice. */
function sayPlainAmount(rule: RuleKind, amount: number): string {
  const { unit } = ruleKinds[rule]
  return unit === 'acres'
    ? `${amount} acres`
    : unit === null || !/^(cents|share)/.test(unit)
      ? String(amount)
      : sayAmount(rule, amount)
}

function sayAmount(rule: RuleKind, amount: number): string {
  const { unit } = ruleKinds[rule]
  if (unit === 'cents' || unit === 'cents/acre') return showCents(amount)
  return unit === 'share' ? `${Number((amount * 100).toFixed(2))} %` : `${amount} ${unit ?? ''}`.trim()
}
