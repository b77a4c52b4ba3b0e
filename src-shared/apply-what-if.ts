/** What-ifs applied to a copy of the season; the season itself stays as it is until the manager changes it. Pure. */
import { fail, ok, type Problem, type Result } from './problem.ts'
import { quoteTitle } from './quote.ts'
import type { Rule, RuleKind } from './rule.ts'
import type { Season } from './season.ts'
import { sayWhatIf, type WhatIf } from './what-if.ts'

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
  if (whatIf.kind === 'longer-days' && !season.machines.some((machine) => machine.kind === whatIf.machine)) {
    problems.push({
      code: 'unknown-name',
      what: `The farm has no ${whatIf.machine} for the what-if “${sayWhatIf(whatIf)}”`,
      where: { table: 'machine' },
      remedy: 'Enter the machine, or take the what-if out.',
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
    case 'allow': {
      const { field, variety, window } = whatIf
      return {
        ...season,
        exclusions: season.exclusions.filter(
          (each) => each.field !== field || each.variety !== variety || each.window !== window,
        ),
      }
    }
    case 'may-stay':
      return { ...season, carried: mayStay(season.carried, whatIf.variety, whatIf.pounds ?? Infinity) }
    case 'share': {
      const others = season.rules.filter((rule) => !isMeant(rule, { rule: 'largest-share', subject: whatIf.variety }))
      const own: Rule = { rule: 'largest-share', subject: whatIf.variety, amount: whatIf.share, isOn: true }
      return { ...season, rules: [...others, own] }
    }
    case 'longer-days':
      return {
        ...season,
        machines: season.machines.map((machine) =>
          machine.kind === whatIf.machine
            ? { ...machine, hoursPerDay: Math.min(24, Math.max(0, machine.hoursPerDay + whatIf.hours)) }
            : machine,
        ),
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

/** So many pounds of what must be used need not be: a lot of which only some must is told as two. */
function mayStay(carried: Season['carried'], variety: string, pounds: number): Season['carried'] {
  let left = pounds
  return carried.flatMap((lot) => {
    if (lot.variety !== variety || !lot.mustUse || left <= 0) return [lot]
    const free = Math.min(left, lot.pounds)
    left -= free
    const may = { ...lot, pounds: free, mustUse: false }
    return free >= lot.pounds ? [may] : [{ ...lot, pounds: lot.pounds - free }, may]
  })
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
