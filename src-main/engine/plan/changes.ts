/**
 * What differs between the season a plan was made from and the season as it is now, in words. A plan is stale when
 * this says anything. Notes, sources and boundaries bear on no plan and are passed over.
 */
import { ruleKinds, ruleSentence, type Rule, type RuleKind } from '../../../src-shared/rule.ts'
import type { Season } from '../../../src-shared/season.ts'
import { bearsOnPlan, byTitle, columnsChanged, type Thing } from '../../../src-shared/season-difference.ts'
import { showCents, showPercent } from '../../../src-shared/show.ts'

const lists = ['fields', 'varieties', 'dealers', 'windows', 'machines', 'threats', 'measures', 'contracts'] as const

/** How a thing of each list is called. */
const nouns: Record<(typeof lists)[number], string> = {
  fields: 'Field',
  varieties: 'Variety',
  dealers: 'Dealer',
  windows: 'Window',
  machines: 'Machine',
  threats: 'Threat',
  measures: 'Measure',
  contracts: 'Contract',
}

const words: Record<string, string> = {
  rowSpacingIn: 'row spacing',
  nematodesPer100cc: 'nematode count',
  nematodeSpecies: 'nematode counted',
  yieldGoalLb: 'yield goal',
  otherCents: 'what the ground brings otherwise',
  rests: 'rest',
  yieldIndexDryland: 'yield on dryland',
  growth: 'vine growth',
  seedsPerPound: 'seeds per pound',
  vine: 'vine size',
  perTonCents: 'price of a ton',
  premiumCents: 'premium',
  packPriceCents: 'price of a pack',
  packPounds: 'pounds in a pack',
  availablePacks: 'packs available',
  orderFeeCents: 'order fee',
  centsPerAcre: 'cost an acre',
  gainLb: 'yield gain',
  gainNewLb: 'yield gain on new ground',
}

const plural = new Set([
  'acres',
  'seedsPerPound',
  'daysToMaturity',
  'packPounds',
  'availablePacks',
  'leastPacks',
  'leastPounds',
  'mostPounds',
  'rows',
  'hoursPerDay',
  'plantingDays',
  'diggingDays',
  'combiningDays',
  'windows',
  'breaks',
  'pounds',
  'tons',
])

/** One sentence a change, in the order of the season file. */
export function changesBetween(before: Season, after: Season): string[] {
  const says: string[] = []
  if (before.season !== after.season) says.push(`The season was ${before.season}, now ${after.season}.`)
  for (const list of lists) compare(says, before[list], after[list], nouns[list], (thing) => String(thing.name))
  compare(says, before.weeks, after.weeks, 'Week', (week) => String(week.starts))
  compare(says, before.quotes, after.quotes, 'Quote', (quote) => titled(quote.dealer, quote.variety, quote.name))
  compare(says, before.carried, after.carried, 'Carried seed', (carried) => titled(carried.variety, carried.lot))
  compare(says, before.rules, after.rules, 'Rule', (rule) => sentence(rule as unknown as Rule))
  compare(says, before.assumptions.filter(bearsOnPlan), after.assumptions.filter(bearsOnPlan), 'Assumption', (row) =>
    String(row.key).split('/').join(' · '),
  )
  compare(says, before.locks, after.locks, 'Lock', (lock) => titled(lock.field, lock.variety, lock.window, lock.week))
  compare(says, before.exclusions, after.exclusions, 'Exclusion', (out) => titled(out.field, out.variety, out.window))
  return says
}

/** A rule without its amount. */
function sentence({ rule, subject }: Rule): string {
  return `“${ruleSentence(rule, subject ?? 'any one variety', '…').replace(/\.$/, '')}”`
}

function titled(...parts: unknown[]): string {
  return parts.filter((part) => part !== undefined).join(' · ')
}

function compare(
  says: string[],
  before: readonly Thing[],
  after: readonly Thing[],
  noun: string,
  titleOf: (thing: Thing) => string,
) {
  const was = byTitle(before, titleOf)
  const is = byTitle(after, titleOf)
  for (const [title, thing] of was) {
    const now = is.get(title)
    if (now) compareThings(says, title, thing, now)
    else says.push(`${noun} ${title} is gone.`)
  }
  for (const title of is.keys()) if (!was.has(title)) says.push(`${noun} ${title} is new.`)
}

function compareThings(says: string[], title: string, before: Thing, after: Thing): void {
  for (const key of columnsChanged(before, after)) {
    const [was, is] = [before[key], after[key]]
    const word = words[key] ?? key.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
    const unit = unitOf(key, before)
    if (key === 'isOn') says.push(`${title} is switched ${is === false ? 'off' : 'on'}.`)
    else if (isPlainObject(was) && isPlainObject(is)) compareThings(says, `${title} (${word})`, was, is)
    else
      says.push(
        `${capital(word)} of ${title} ${plural.has(key) ? 'were' : 'was'} ${show(was, unit)}, now ${show(is, unit)}.`,
      )
  }
}

function isPlainObject(value: unknown): value is Thing {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

type Unit = 'cents' | 'share' | null

const shares = new Set(['germination', 'returnCredit', 'depositShare', 'fieldEfficiency'])

/** A figure is told as it is typed. */
function unitOf(key: string, of: Thing): Unit {
  const unit = key === 'amount' ? ruleKinds[of['rule'] as RuleKind].unit : null
  if (/^cents|Cents$/.test(key) || unit === 'cents' || unit === 'cents/acre') return 'cents'
  return shares.has(key) || unit === 'share' ? 'share' : null
}

function show(value: unknown, unit: Unit = null): string {
  if (value === undefined || value === null) return 'not given'
  if (typeof value === 'number' && unit !== null) return unit === 'cents' ? showCents(value) : showPercent(value, 2)
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'number') return value.toLocaleString('en-US', { maximumFractionDigits: 4 })
  if (typeof value === 'string') return value
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map((each) => show(each)).join(', ')
  return Object.values(value)
    .map((each) => show(each))
    .join(' ')
}
