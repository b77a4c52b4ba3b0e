/**
 * What was stored by name, under the names that its rows have now: a plan with its season, its proof and its reasons, and the
 * settings of a draft. Pests are not among what may be renamed: rows of the book go by their names, so that another name is
 * another pest. Pure.
 */
import type { Plan, Proof } from './plan.ts'
import { quoteTitle } from './quote.ts'
import type { Reasons } from './reasons.ts'
import { ruleKinds, type RuleKind } from './rule.ts'
import type { Season } from './season.ts'
import type { WhatIf } from './what-if.ts'

export const namedNouns = ['field', 'variety', 'dealer', 'window', 'measure'] as const
export type NamedNoun = (typeof namedNouns)[number]

/** By noun: id of the row → its name. */
export type Names = Readonly<Record<NamedNoun, Readonly<Record<string, string>>>>

export interface Renaming {
  /** The name now of what had this name. */
  of(noun: NamedNoun, name: string): string
  /** A sentence or a title with every name in it as it is now. */
  inWords(text: string): string
}

/**
 * @param before names when it was stored
 * @returns null where no row that was there then has another name now
 */
export function renaming(before: Partial<Names>, now: Names): Renaming | null {
  const changed = new Map(namedNouns.map((noun) => [noun, changesOf(before[noun] ?? {}, now[noun])]))
  if ([...changed.values()].every((names) => names.size === 0)) return null
  const inWords = wordsWith(before, changed)
  return { of: (noun, name) => changed.get(noun)?.get(name) ?? name, inWords }
}

/** Old name → new one. A row that is gone whose name another has now is told apart by a word. */
function changesOf(
  before: Readonly<Record<string, string>>,
  now: Readonly<Record<string, string>>,
): Map<string, string> {
  const changed = new Map<string, string>()
  for (const [id, name] of Object.entries(before)) {
    const is = now[id]
    if (is !== undefined && is !== name) changed.set(name, is)
  }
  const taken = new Set(changed.values())
  for (const [id, name] of Object.entries(before)) {
    if (now[id] === undefined && taken.has(name)) changed.set(name, `${name} (deleted)`)
  }
  return changed
}

/** Whole names only, the longest that fits: “North” in “North 40” is not the field “North”. */
function wordsWith(before: Partial<Names>, changed: ReadonlyMap<NamedNoun, ReadonlyMap<string, string>>) {
  const words = new Map<string, string>()
  const unsure = new Set<string>()
  for (const noun of namedNouns) {
    for (const name of Object.values(before[noun] ?? {})) {
      const is = changed.get(noun)?.get(name) ?? name
      // A field and a variety of one name: a sentence does not say which is meant.
      if ((words.get(name) ?? is) !== is) unsure.add(name)
      words.set(name, is)
    }
  }
  const escaped = [...words.keys()]
    .sort((a, b) => b.length - a.length)
    .map((name) => name.replace(/[\\^$.*+?()[\]{}|/]/g, '\\$&'))
  const names = new RegExp(`(?<![\\p{L}\\p{N}])(?:${escaped.join('|')})(?![\\p{L}\\p{N}])`, 'gu')
  return (text: string) => text.replace(names, (name) => (unsure.has(name) ? name : (words.get(name) ?? name)))
}

/** The same season with its lists in the order of their names, as it is gathered. */
export function renameSeason(season: Season, { of }: Renaming): Season {
  const named = <Thing extends { name: string }>(noun: NamedNoun, things: readonly Thing[]) =>
    things.map((thing) => ({ ...thing, name: of(noun, thing.name) })).sort(by(({ name }) => name))
  const subject = (rule: RuleKind, name: string) =>
    ruleKinds[rule].subject === 'variety?' ? of('variety', name) : name
  return {
    ...season,
    windows: named('window', season.windows),
    measures: named('measure', season.measures),
    fields: named('field', season.fields).map((field) => ({
      ...field,
      windows: field.windows.map((name) => of('window', name)).sort(),
    })),
    varieties: named('variety', season.varieties),
    dealers: named('dealer', season.dealers),
    quotes: season.quotes
      .map((quote) => ({ ...quote, dealer: of('dealer', quote.dealer), variety: of('variety', quote.variety) }))
      .sort(by(quoteTitle)),
    carried: season.carried
      .map((carried) => ({ ...carried, variety: of('variety', carried.variety) }))
      .sort(by(({ variety, lot }) => JSON.stringify([variety, lot ?? '']))),
    rules: season.rules
      .map((rule) => (rule.subject === undefined ? rule : { ...rule, subject: subject(rule.rule, rule.subject) }))
      .sort(by((rule) => JSON.stringify([rule.rule, rule.subject ?? '']))),
    locks: season.locks.map((lock) => placeOf(lock, of)).sort(by(placeKey)),
    exclusions: season.exclusions.map((exclusion) => placeOf(exclusion, of)).sort(by(placeKey)),
  }
}

interface Place {
  field?: string | undefined
  variety?: string | undefined
  window?: string | undefined
  week?: string | undefined
}

function placeOf<Thing extends Place>(thing: Thing, of: Renaming['of']): Thing {
  const named = { ...thing }
  for (const noun of ['field', 'variety', 'window'] as const) {
    const name = thing[noun]
    if (name !== undefined) named[noun] = of(noun, name)
  }
  return named
}

const placeKey = ({ field = '', variety = '', window = '', week = '' }: Place) =>
  JSON.stringify([field, variety, window, week])

/** By code unit, as seasons are gathered. */
function by<Thing>(textOf: (thing: Thing) => string) {
  return (a: Thing, b: Thing) => {
    const [one, other] = [textOf(a), textOf(b)]
    return one < other ? -1 : one > other ? 1 : 0
  }
}

/** Rows stay in their order. */
export function renamePlan(plan: Plan, { of, inWords }: Renaming): Plan {
  return {
    ...plan,
    blocks: plan.blocks.map((block) => ({
      ...placeOf(block, of),
      programme: block.programme.map((name) => of('measure', name)),
    })),
    leftOut: plan.leftOut.map((each) => ({ ...each, field: of('field', each.field) })),
    purchases: plan.purchases.map((purchase) => ({
      ...purchase,
      quote: inWords(purchase.quote),
      dealer: of('dealer', purchase.dealer),
      variety: of('variety', purchase.variety),
      ...(purchase.onOrderOf === undefined ? {} : { onOrderOf: inWords(purchase.onOrderOf) }),
    })),
    orders: plan.orders.map((order) => ({ ...order, dealer: of('dealer', order.dealer) })),
    seed: plan.seed.map((each) => ({ ...each, variety: of('variety', each.variety) })),
  }
}

export function renameProof(proof: Proof, { inWords }: Renaming): Proof {
  const { conflict, endedQuotes } = proof
  return {
    ...proof,
    ...(endedQuotes === undefined ? {} : { endedQuotes: endedQuotes.map(inWords) }),
    ...(conflict === undefined
      ? {}
      : {
          conflict: {
            ...conflict,
            says: inWords(conflict.says),
            rules: conflict.rules.map((rule) => ({
              ...rule,
              id: ruleId(rule.id, inWords),
              says: inWords(rule.says),
              remedy: inWords(rule.remedy),
            })),
          },
        }),
  }
}

/** What comes before the first slash is a kind of rule, whatever a field is called. */
function ruleId(id: string, inWords: Renaming['inWords']): string {
  const [kind = '', ...subject] = id.split('/')
  return subject.length === 0 ? id : `${kind}/${inWords(subject.join('/'))}`
}

export function renameReasons(reasons: Reasons, { of, inWords }: Renaming): Reasons {
  const field = (name: string) => of('field', name)
  return {
    ...reasons,
    choices: reasons.choices.map((choice) => ({
      ...placeOf(choice, of),
      cost: { ...choice.cost, says: inWords(choice.cost.says) },
      otherFields: choice.otherFields?.map(field) ?? null,
    })),
    excluded: reasons.excluded.map((choice) => ({
      ...placeOf(choice, of),
      windows: choice.windows.map((name) => of('window', name)),
      reasons: choice.reasons.map(inWords),
    })),
    entryPrices: reasons.entryPrices.map((price) => ({
      ...price,
      variety: of('variety', price.variety),
      quotes: price.quotes.map((quote) => ({ ...quote, quote: inWords(quote.quote) })),
      says: inWords(price.says),
    })),
    ruleCosts: reasons.ruleCosts.map((each) => ({
      ...each,
      rule: ruleId(each.rule, inWords),
      ruleSays: inWords(each.ruleSays),
      cost: { ...each.cost, says: inWords(each.cost.says) },
    })),
  }
}

/** A change of a draft. Its words follow by themselves. */
export function renameWhatIf(whatIf: WhatIf, { of, inWords }: Renaming): WhatIf {
  const named: Record<string, unknown> = { ...whatIf }
  for (const noun of ['field', 'variety', 'window', 'dealer'] as const) {
    const name = named[noun]
    if (typeof name === 'string') named[noun] = of(noun, name)
  }
  if ('quote' in whatIf && whatIf.quote !== undefined) named['quote'] = inWords(whatIf.quote)
  if ('rule' in whatIf && whatIf.subject !== undefined && ruleKinds[whatIf.rule].subject === 'variety?') {
    named['subject'] = of('variety', whatIf.subject)
  }
  return named as WhatIf
}
