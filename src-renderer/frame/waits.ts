/** What still waits at each stage, in quiet words, from the farm's own rows. Pure; says nothing where nothing is known. */
import { lateDigging } from '../../src-shared/calendar-order.ts'
import { cropQuestions } from '../../src-shared/crop.ts'
import type { SpringWaiting } from '../../src-shared/delivery.ts'
import type { FieldRow } from '../../src-shared/field.ts'
import type { HarvestWaiting } from '../../src-shared/harvest-total.ts'
import type { OrdersWaiting } from '../../src-shared/order.ts'
import type { PlanRecord } from '../../src-shared/plan.ts'
import type { QuoteRow } from '../../src-shared/quote.ts'
import { showAcres, showCount, showDollars } from '../../src-shared/show.ts'
import type { Carried, VarietyRow } from '../../src-shared/variety.ts'
import type { StageId } from './stages.ts'

export interface Waiting {
  words: string
  /** Wants attention. */
  heed?: boolean
}

export interface Known {
  fields?: readonly FieldRow[]
  /** Crop words that the manager has said are not peanut. */
  settledCrops?: readonly string[]
  varieties?: readonly VarietyRow[]
  quotes?: readonly QuoteRow[]
  carried?: readonly Pick<Carried, 'germination'>[]
  plan?: PlanRecord | null
  orders?: OrdersWaiting
  spring?: SpringWaiting
  harvest?: HarvestWaiting
  /** The last backup that was due could not be made. */
  lacksBackup?: boolean
  isSolving: boolean
  today: Date
}

/** [day] from which on the end of a quote is worth a word. */
const soon = 30
const day = 86_400_000

export function waits(known: Known): Partial<Record<StageId | 'file', Waiting[]>> {
  return {
    fields: known.fields && ofFields(known.fields, known.settledCrops ?? []),
    varieties: known.varieties && ofVarieties(known.varieties.length),
    quotes: known.quotes && ofQuotes(known.quotes, known.carried ?? [], known.today),
    plan: ofPlan(known),
    orders: ofOrders(known),
    calendar: ofCalendar(known.plan),
    ...(known.spring && ofSpring(known.spring)),
    harvest: known.harvest && ofHarvest(known.harvest),
    review: known.harvest && ofReview(known.harvest),
    file: known.lacksBackup ? [{ words: 'no backup could be made', heed: true }] : undefined,
  }
}

function ofFields(fields: readonly FieldRow[], settledCrops: readonly string[]): Waiting[] {
  if (fields.length === 0) return [{ words: 'none yet', heed: true }]
  const open = fields.filter((field) => !field.rests)
  const acres = open.reduce((sum, field) => sum + field.acres, 0)
  const bare = fields.filter((field) => field.yearsOut === null).length
  const lines: Waiting[] = [{ words: `${showCount(open.length, 'field')}, ${showAcres(acres)} acres` }]
  const resting = fields.length - open.length
  if (resting > 0) lines.push({ words: `${showCount(resting, 'field rests', 'fields rest')}` })
  if (bare > 0) lines.push({ words: `${showCount(bare, 'field has', 'fields have')} no history`, heed: true })
  const unknown = cropQuestions(fields, settledCrops).length
  if (unknown > 0) lines.push({ words: `${showCount(unknown, 'crop')} not known`, heed: true })
  return lines
}

function ofVarieties(count: number): Waiting[] {
  return count === 0 ? [{ words: 'none yet', heed: true }] : [{ words: showCount(count, 'variety', 'varieties') }]
}

function ofQuotes(
  quotes: readonly QuoteRow[],
  carried: readonly Pick<Carried, 'germination'>[],
  today: Date,
): Waiting[] {
  // Seed from last season: what its tag said then is old.
  const untested = carried.filter(({ germination }) => germination === undefined).length
  const tests = untested > 0 ? [{ words: `${showCount(untested, 'lot')} on hand to test`, heed: true }] : []
  if (quotes.length === 0) return [{ words: 'none yet', heed: true }, ...tests]
  const dealers = new Set(quotes.map((quote) => quote.dealer)).size
  const lines: Waiting[] = [{ words: `${showCount(quotes.length, 'quote')}, ${showCount(dealers, 'dealer')}` }]
  const left = quotes.flatMap(({ orderBy }) => (orderBy ? [daysTo(orderBy, today)] : []))
  const over = left.filter((days) => days < 0).length
  const next = Math.min(...left.filter((days) => days >= 0))
  if (over > 0) lines.push({ words: `${showCount(over, 'quote has', 'quotes have')} ended`, heed: true })
  if (next <= soon)
    lines.push({ words: next === 0 ? 'a quote ends today' : `quote ends in ${showCount(next, 'day')}`, heed: true })
  return [...lines, ...tests]
}

function daysTo(isoDay: string, today: Date): number {
  const start = Date.UTC(today.getFullYear(), today.getMonth(), today.getDate())
  return (Date.parse(`${isoDay}T00:00:00Z`) - start) / day
}

/** Nothing is asked of orders before there is a plan to make them from. */
function ofOrders({ orders, plan, today }: Known): Waiting[] | undefined {
  if (orders === undefined) return undefined
  if (orders.lines === 0) return plan?.plan && plan.plan.purchases.length > 0 ? [{ words: 'not made yet' }] : []
  const { toOrder, unanswered, short, nextOrderBy, isOfOlderPlan } = orders
  const lines: Waiting[] = []
  const open = toOrder + unanswered
  if (open > 0) lines.push({ words: `${showCount(open, 'order line')} not confirmed` })
  if (nextOrderBy !== null) {
    const left = daysTo(nextOrderBy, today)
    if (left < 0) lines.push({ words: 'a line was not sent in time', heed: true })
    else if (left <= soon)
      lines.push({ words: left === 0 ? 'order today' : `order within ${showCount(left, 'day')}`, heed: true })
  }
  if (short > 0) lines.push({ words: `${showCount(short, 'line')} refused or cut`, heed: true })
  if (isOfOlderPlan) lines.push({ words: 'made from an older plan', heed: true })
  return lines.length > 0 ? lines : [{ words: 'every line is confirmed' }]
}

/** Spring says nothing before there is an order to wait for or a lot on the farm. */
function ofSpring(spring: SpringWaiting): Pick<ReturnType<typeof waits>, 'deliveries' | 'rates' | 'planting'> {
  const deliveries: Waiting[] = []
  if (spring.owedLines > 0)
    deliveries.push({ words: `${spring.owedLines} of ${showCount(spring.lines, 'line')} to come` })
  else if (spring.lines > 0) deliveries.push({ words: 'all is here' })
  if (spring.untagged > 0)
    deliveries.push({ words: `${showCount(spring.untagged, 'lot has', 'lots have')} no tag`, heed: true })
  if (spring.failing > 0)
    deliveries.push({ words: `${showCount(spring.failing, 'lot', 'lots')} beyond a limit`, heed: true })
  if (spring.lots === 0) return { deliveries }
  const rates: Waiting[] =
    spring.short > 0 ? [{ words: `${showCount(spring.short, 'variety', 'varieties')} short`, heed: true }] : []
  const planting: Waiting[] = []
  if (spring.plantings > 0)
    planting.push({ words: `${showAcres(spring.plantedAcres)} of ${showAcres(spring.plannedAcres)} acres` })
  if (spring.unfinished > 0) planting.push({ words: `${spring.unfinished} half-finished`, heed: true })
  if (spring.lowStands > 0) planting.push({ words: showCount(spring.lowStands, 'low stand'), heed: true })
  return { deliveries, rates, planting }
}

/** A field without a load is waited for, no more: nobody hauls before the peanuts are dug. */
function ofHarvest({ planted, withoutLoad, loads, unvalued, heeded }: HarvestWaiting): Waiting[] {
  const lines: Waiting[] = []
  if (loads > 0) lines.push({ words: showCount(loads, 'load') })
  if (planted > 0 && withoutLoad > 0)
    lines.push({ words: `${withoutLoad} of ${showCount(planted, 'planted field')} without a load` })
  if (unvalued > 0) lines.push({ words: `${showCount(unvalued, 'load has', 'loads have')} no value`, heed: true })
  if (heeded > 0) lines.push({ words: `${showCount(heeded, 'load', 'loads')} to look at`, heed: true })
  return lines
}

/** Worth a look as soon as there is a crop; whole when every planted field has come in and has its value. */
function ofReview({ planted, withoutLoad, loads, unvalued }: HarvestWaiting): Waiting[] {
  if (loads === 0) return []
  if (planted > 0 && withoutLoad === 0 && unvalued === 0) return [{ words: 'every field is in' }]
  return [{ words: 'the crop is not all in' }]
}

function ofPlan({ plan, isSolving }: Known): Waiting[] | undefined {
  if (isSolving) return [{ words: 'being worked out' }]
  if (plan === undefined) return undefined
  if (plan === null) return [{ words: 'no plan yet' }]
  if (plan.plan === null) return [{ words: 'nothing fits', heed: true }]
  const stands = plan.isStale ? { words: 'plan is out of date', heed: true } : { words: 'plan is up to date' }
  const ended = plan.proof.endedQuotes?.length ?? 0
  return [
    stands,
    ...(plan.attempt?.costCents === null ? [{ words: 'last solve found no plan', heed: true }] : []),
    ...(ended > 0 ? [{ words: `${showCount(ended, 'ended quote')} left out` }] : []),
  ]
}

/** What waits too long to be dug, once there is a plan by weeks. */
function ofCalendar(plan: PlanRecord | null | undefined): Waiting[] | undefined {
  const { acres, cents } = lateDigging(plan?.plan?.blocks ?? [])
  return acres < 0.5 ? undefined : [{ words: `${showAcres(Math.round(acres))} acres dug late, ${showDollars(-cents)}` }]
}
