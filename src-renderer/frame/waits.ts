/** What still waits at each stage, in quiet words, from the farm's own rows. Pure; says nothing where nothing is known. */
import type { FieldRow } from '../../src-shared/field.ts'
import type { PlanRecord } from '../../src-shared/plan.ts'
import type { QuoteRow } from '../../src-shared/quote.ts'
import { showAcres, showCount } from '../../src-shared/show.ts'
import type { VarietyRow } from '../../src-shared/variety.ts'
import type { StageId } from './stages.ts'

export interface Waiting {
  words: string
  /** Wants attention. */
  heed?: boolean
}

export interface Known {
  fields?: readonly FieldRow[]
  varieties?: readonly VarietyRow[]
  quotes?: readonly QuoteRow[]
  plan?: PlanRecord | null
  isSolving: boolean
  today: Date
}

/** [day] from which on the end of a quote is worth a word. */
const soon = 30
const day = 86_400_000

export function waits(known: Known): Partial<Record<StageId, Waiting[]>> {
  return {
    fields: known.fields && ofFields(known.fields),
    varieties: known.varieties && ofVarieties(known.varieties.length),
    quotes: known.quotes && ofQuotes(known.quotes, known.today),
    plan: ofPlan(known),
  }
}

function ofFields(fields: readonly FieldRow[]): Waiting[] {
  if (fields.length === 0) return [{ words: 'none yet', heed: true }]
  const acres = fields.reduce((sum, field) => sum + field.acres, 0)
  const bare = fields.filter((field) => field.yearsOut === null).length
  const lines: Waiting[] = [{ words: `${showCount(fields.length, 'field')}, ${showAcres(acres)} acres` }]
  if (bare > 0) lines.push({ words: `${bare} without crop history`, heed: true })
  return lines
}

function ofVarieties(count: number): Waiting[] {
  return count === 0 ? [{ words: 'none yet', heed: true }] : [{ words: showCount(count, 'variety', 'varieties') }]
}

function ofQuotes(quotes: readonly QuoteRow[], today: Date): Waiting[] {
  if (quotes.length === 0) return [{ words: 'none yet', heed: true }]
  const dealers = new Set(quotes.map((quote) => quote.dealer)).size
  const lines: Waiting[] = [{ words: `${showCount(quotes.length, 'quote')}, ${showCount(dealers, 'dealer')}` }]
  const start = Date.UTC(today.getFullYear(), today.getMonth(), today.getDate())
  const left = quotes.flatMap(({ orderBy }) => (orderBy ? [(Date.parse(`${orderBy}T00:00:00Z`) - start) / day] : []))
  const over = left.filter((days) => days < 0).length
  const next = Math.min(...left.filter((days) => days >= 0))
  if (over > 0) lines.push({ words: `${over} past their order date`, heed: true })
  if (next <= soon)
    lines.push({ words: next === 0 ? 'one ends today' : `next ends in ${showCount(next, 'day')}`, heed: true })
  return lines
}

function ofPlan({ plan, isSolving }: Known): Waiting[] | undefined {
  if (isSolving) return [{ words: 'being worked out' }]
  if (plan === undefined) return undefined
  if (plan === null) return [{ words: 'no plan yet' }]
  if (plan.plan === null) return [{ words: 'nothing fits', heed: true }]
  return [plan.isStale ? { words: 'plan is out of date', heed: true } : { words: 'plan is up to date' }]
}
