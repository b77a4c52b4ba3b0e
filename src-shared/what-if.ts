/**
 * What-ifs: single changes to a season, as data, each with the sentence a person would say. Applied to a copy; the
 * season itself stays as it is until the manager changes it.
 */
import * as v from 'valibot'
import { between, fraction, nameText, wholeBetween } from './primitive.ts'
import { fail, ok, type Problem, type Result } from './problem.ts'
import { quoteTitle } from './quote.ts'
import { ruleKinds, type Rule, type RuleKind } from './rule.ts'
import type { Season } from './season.ts'
import { showCents } from './show.ts'

const ruleName = v.picklist(Object.keys(ruleKinds) as [RuleKind, ...RuleKind[]], 'is not a rule that Standwell knows')
const title = v.pipe(v.string(), v.minLength(1), v.maxLength(250))

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
  /** Carried seed may stay unused. */
  v.strictObject({ kind: v.literal('may-stay'), variety: nameText }),
  /** Germination expected of a variety. */
  v.strictObject({ kind: v.literal('germination'), variety: nameText, germination: fraction }),
])

export type WhatIf = v.InferOutput<typeof whatIfSchema>

/** The change as a person would say it. */
export function sayWhatIf(whatIf: WhatIf): string {
  switch (whatIf.kind) {
    case 'price': {
      const what = [whatIf.quote, whatIf.variety, whatIf.dealer].filter((part) => part !== undefined).join(' from ')
      const way = whatIf.percent >= 0 ? 'dearer' : 'cheaper'
      return `${what === '' ? 'All seed' : what} is ${Math.abs(whatIf.percent)} % ${way}.`
    }
    case 'variety-gone':
      return `${whatIf.variety} cannot be had.`
    case 'rule-off':
      return `Without the rule: ${sayRule(whatIf)}`
    case 'rule-on':
      return `With the rule: ${sayRule(whatIf)}`
    case 'rule-by':
      return `${sayRule(whatIf)} By ${sayAmount(whatIf.rule, Math.abs(whatIf.by))} ${whatIf.by >= 0 ? 'more' : 'less'}.`
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
    case 'may-stay':
      return `Seed of ${whatIf.variety} on hand may stay unused.`
    case 'germination':
      return `${whatIf.variety} germinates at ${Number((whatIf.germination * 100).toFixed(1))} %.`
  }
}

function sayRule({ rule, subject }: { rule: RuleKind; subject?: string }): string {
  return ruleKinds[rule].says.replace('{subject}', subject ?? 'any variety').replaceAll(/\{amount\}/g, 'the set amount')
}

function sayAmount(rule: RuleKind, amount: number): string {
  const { unit } = ruleKinds[rule]
  if (unit === 'cents' || unit === 'cents/acre') return showCents(amount)
  return unit === 'share' ? `${Number((amount * 100).toFixed(2))} %` : `${amount} ${unit ?? ''}`.trim()
}

/**
 * The season with these changes, in their order. What a change names and the season does not have is a problem.
 * @returns a new season; the given one is untouched
 */
export function withWhatIfs(season: Season, whatIfs: readonly WhatIf[]): Result<Season> {
  let changed = season
  const problems: Problem[] = []
  for (const whatIf of whatIfs) {
    const unknown = unknownIn(changed, whatIf)
    if (unknown.length > 0) problems.push(...unknown)
    else changed = apply(changed, whatIf)
  }
  return problems.length > 0 ? fail(...problems) : ok(changed)
}

function unknownIn(season: Season, whatIf: WhatIf): Problem[] {
  const lists: Record<string, readonly string[]> = {
    quote: season.quotes.map(quoteTitle),
    variety: season.varieties.map((each) => each.name),
    dealer: season.dealers.map((each) => each.name),
    field: season.fields.map((each) => each.name),
    window: season.windows.map((each) => each.name),
  }
  const problems: Problem[] = []
  for (const [key, names] of Object.entries(lists)) {
    const name = (whatIf as Record<string, unknown>)[key]
    if (typeof name !== 'string' || names.includes(name)) continue
    problems.push({
      code: 'unknown-name',
      what: `There is no ${key} named “${name}” for the what-if “${sayWhatIf(whatIf)}”`,
      where: { name },
      remedy: 'It may have been renamed or removed; take the what-if out, or name what is there.',
    })
  }
  if (whatIf.kind === 'exclude' && (whatIf.field ?? whatIf.variety ?? whatIf.window) === undefined) {
    problems.push({
      code: 'missing',
      what: 'A what-if that rules something out names no field, variety or window.',
      remedy: 'Name at least one of them.',
    })
  }
  if ('rule' in whatIf && !season.rules.some((rule) => isMeant(rule, whatIf))) {
    problems.push({
      code: 'unknown-name',
      what: `The season has no such rule as in the what-if “${sayWhatIf(whatIf)}”`,
      where: { rule: whatIf.rule },
      remedy: 'Add the rule to the house rules, or take the what-if out.',
    })
  }
  return problems
}

function isMeant(rule: Rule, { rule: kind, subject }: { rule: RuleKind; subject?: string }): boolean {
  return rule.rule === kind && rule.subject === subject
}

function apply(season: Season, whatIf: WhatIf): Season {
  const rules = (change: (rule: Rule) => Rule, of: { rule: RuleKind; subject?: string }): Season => ({
    ...season,
    rules: season.rules.map((rule) => (isMeant(rule, of) ? change(rule) : rule)),
  })
  switch (whatIf.kind) {
    case 'price':
      return {
        ...season,
        quotes: season.quotes.map((quote) => (isPriced(quote, whatIf) ? priced(quote, whatIf.percent) : quote)),
      }
    case 'variety-gone':
      return {
        ...season,
        quotes: season.quotes.map((quote) =>
          quote.variety === whatIf.variety ? { ...quote, availablePacks: 0 } : quote,
        ),
        carried: season.carried.filter((carried) => carried.variety !== whatIf.variety),
        exclusions: [...season.exclusions, { variety: whatIf.variety }],
      }
    case 'rule-off':
      return rules((rule) => ({ ...rule, isOn: false }), whatIf)
    case 'rule-on':
      return rules((rule) => ({ ...rule, isOn: true }), whatIf)
    case 'rule-by':
      return rules((rule) => ({ ...rule, amount: Math.max(0, (rule.amount ?? 0) + whatIf.by) }), whatIf)
    case 'packs':
      return {
        ...season,
        quotes: season.quotes.map((quote) =>
          quoteTitle(quote) === whatIf.quote ? { ...quote, availablePacks: whatIf.availablePacks ?? undefined } : quote,
        ),
      }
    case 'delivers':
      return {
        ...season,
        dealers: season.dealers.map((dealer) =>
          dealer.name === whatIf.dealer ? { ...dealer, mostPounds: whatIf.mostPounds ?? undefined } : dealer,
        ),
      }
    case 'lock': {
      const { kind: _, ...lock } = whatIf
      return { ...season, locks: [...season.locks.filter((each) => each.field !== lock.field), lock] }
    }
    case 'unlock':
      return { ...season, locks: season.locks.filter((each) => each.field !== whatIf.field) }
    case 'exclude': {
      const { kind: _, ...exclusion } = whatIf
      return { ...season, exclusions: [...season.exclusions, exclusion] }
    }
    case 'may-stay':
      return {
        ...season,
        carried: season.carried.map((each) => (each.variety === whatIf.variety ? { ...each, mustUse: false } : each)),
      }
    case 'germination':
      return {
        ...season,
        varieties: season.varieties.map((each) =>
          each.name === whatIf.variety ? { ...each, germination: whatIf.germination } : each,
        ),
      }
  }
}

type Quote = Season['quotes'][number]

function isPriced(quote: Quote, { quote: title, variety, dealer }: Extract<WhatIf, { kind: 'price' }>): boolean {
  return (
    (title === undefined || quoteTitle(quote) === title) &&
    (variety === undefined || quote.variety === variety) &&
    (dealer === undefined || quote.dealer === dealer)
  )
}

/** Rounded to the cent a pack, as a dealer would. */
function priced(quote: Quote, percent: number): Quote {
  const moved = (cents: number) => Math.round(cents * (1 + percent / 100))
  return {
    ...quote,
    packPriceCents: moved(quote.packPriceCents),
    breaks: quote.breaks.map((each) => ({ ...each, packPriceCents: moved(each.packPriceCents) })),
  }
}
