/** House rules as sentences with holes in them: where an amount or a subject stands, something is typed. Pure. */
import { ruleKinds, ruleSentence, type RuleKind } from '../../../src-shared/rule.ts'
import type { Reading } from '../../../src-shared/read-text.ts'
import { readDollars, readNumber, readPercent } from '../../../src-shared/read-text.ts'

export type Part = { kind: 'words'; text: string } | { kind: 'amount' } | { kind: 'subject' }

/** "Plant at least {amount} of {subject}." → words, hole, words, hole, words. */
export function partsOf(rule: RuleKind): Part[] {
  return ruleKinds[rule].says
    .split(/(\{amount\}|\{subject\})/)
    .filter((text) => text !== '')
    .map((text): Part => {
      if (text === '{amount}') return { kind: 'amount' }
      return text === '{subject}' ? { kind: 'subject' } : { kind: 'words', text }
    })
}

/** How an amount of this rule is typed: shares in percent, money in dollars. */
export function amountText(rule: RuleKind, amount: number | undefined): string {
  if (amount === undefined) return ''
  const unit: string | null = ruleKinds[rule].unit
  if (unit === 'share') return String(Number((amount * 100).toFixed(4)))
  return unit?.startsWith('cents') ? (amount / 100).toFixed(2).replace(/\.00$/, '') : String(amount)
}

export function readAmount(rule: RuleKind, text: string): Reading<number> {
  const unit: string | null = ruleKinds[rule].unit
  if (unit === 'share') return readPercent(text)
  return unit?.startsWith('cents') ? readDollars(text) : readNumber(text)
}

/** Words before and after the hole. */
export function unitsOf(rule: RuleKind): { before: string; after: string } {
  const unit: string | null = ruleKinds[rule].unit
  if (unit === 'share') return { before: '', after: '%' }
  if (unit?.startsWith('cents')) return { before: '$', after: '' }
  return { before: '', after: unit === 'acres' ? 'acres' : '' }
}

/** The whole sentence as a screen reader says it: "No more than 40% of the acres in Alder." */
export function spokenRule(rule: RuleKind, amount: string, subject: string): string {
  const { before, after } = unitsOf(rule)
  const told = amount === '' ? 'so much' : `${before}${amount}${after === '%' ? after : after && ` ${after}`}`
  return ruleSentence(rule, subject, told)
}

/** The kinds by what they are about, in the order they are read. One that is not named here stands under the last. */
const groups: readonly { title: string; kinds: readonly string[] }[] = [
  { title: 'What counts', kinds: ['risk-weight', 'yield-left-out', 'choose-rate', 'budget', 'may-rest', 'stay-put'] },
  {
    title: 'Varieties and acres',
    kinds: ['largest-share', 'fewest-varieties', 'most-varieties', 'contract'],
  },
  { title: 'Buying', kinds: ['reserve', 'reserve-by-chance', 'most-dealers'] },
  { title: 'Disease and nematodes', kinds: ['largest-loss', 'nematode-threshold', 'always-measure'] },
  { title: 'Early planting', kinds: ['early-rating', 'early-twin-rows', 'early-stand', 'early-measure'] },
  { title: 'Work and machines', kinds: ['insured-planting', 'planter-hours', 'digger-hours', 'combine-hours'] },
]

export function groupsOfRules(): { title: string; kinds: RuleKind[] }[] {
  const all = Object.keys(ruleKinds) as RuleKind[]
  const named = new Set(groups.flatMap(({ kinds }) => kinds))
  const rest = all.filter((kind) => !named.has(kind))
  const known = groups.map(({ title, kinds }) => ({ title, kinds: all.filter((kind) => kinds.includes(kind)) }))
  return rest.length === 0 ? known : [...known, { title: 'Further', kinds: rest }]
}
