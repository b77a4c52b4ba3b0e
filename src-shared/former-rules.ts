/** Rules that earlier versions had, as files and stored plans still name them, in the words of now. */
import type { Rule } from './rule.ts'
import { withWeeks } from './former-windows.ts'
import type { Season } from './season.ts'
import type { Variety } from './variety.ts'

/**
 * `count-give-up`: yield counts without a rule now. `leave-out` had a price for leaving an acre out; now the amount is what
 * the acre brings otherwise, which nobody has said. What is not a list is handed on, for the schema to refuse.
 */
export function currentRules(rules: unknown): unknown {
  if (!Array.isArray(rules)) return rules
  return rules.flatMap((rule: unknown) => {
    const kind = (rule as { rule?: unknown } | null)?.rule
    if (kind === 'count-give-up') return []
    return kind === 'leave-out' ? [{ ...(rule as object), rule: 'may-rest', amount: 0 }] : [rule]
  })
}

/** A season as it was stored with a plan, as one of now: rules by today's names, columns that came later at their preset. */
export function seasonOfNow(season: Season): Season {
  const dated = withWeeks({ ...season }) as Season
  return {
    ...dated,
    weeks: (dated.weeks as Season['weeks'] | undefined) ?? [],
    fields: season.fields.map((field) => ({ ...field, rests: (field.rests as boolean | undefined) ?? false })),
    varieties: season.varieties.map((variety) => ({
      ...variety,
      marketType: (variety.marketType as Variety['marketType'] | undefined) ?? 'runner',
    })),
    contracts: (season.contracts as Season['contracts'] | undefined) ?? [],
    rules: currentRules(season.rules) as Rule[],
  }
}
