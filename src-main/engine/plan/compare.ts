/** What differs between two plans: by field, bags, dealers, money and rules. Pure. */
import type { Comparison, DealerDifference, FieldDifference, QuoteDifference } from '../../../src-shared/comparison.ts'
import type { Plan, PlanBlock, PlanTotals } from '../../../src-shared/plan.ts'
import type { Season } from '../../../src-shared/season.ts'
import { showAcres, showCount, showDollars } from '../../../src-shared/show.ts'
import { changesBetween } from './changes.ts'

/** Sums of doubles that differ by less than this are the same. */
const SAME = 1e-6

/** A plan and the season that it was made from. */
export interface Made {
  plan: Plan
  input: Season
}

export function compare(a: Made, b: Made): Comparison {
  const fields = fieldsOf(a.plan, b.plan)
  const totals = (Object.keys(a.plan.totals) as (keyof PlanTotals)[]).flatMap((key) => {
    const [was, is] = [a.plan.totals[key], b.plan.totals[key]]
    // A plan made before the crop was counted has no margin to compare.
    if (was === undefined || is === undefined) return []
    return Math.abs(was - is) > SAME ? [{ key, a: was, b: is }] : []
  })
  return {
    fields,
    quotes: quotesOf(a.plan, b.plan),
    dealers: dealersOf(a.plan, b.plan),
    totals,
    rules: changesBetween(a.input, b.input),
    says: saysOf(a.plan, b.plan, fields.length),
  }
}

function fieldsOf(a: Plan, b: Plan): FieldDifference[] {
  const names = namesOf([...a.blocks, ...a.leftOut, ...b.blocks, ...b.leftOut], (each) => each.field)
  return names.flatMap((field) => {
    const [was, is] = [blocksOn(a, field), blocksOn(b, field)]
    if (was.join('\n') === is.join('\n')) return []
    const sum = (plan: Plan, cents: (block: PlanBlock) => number) =>
      plan.blocks.reduce((total, block) => total + (block.field === field ? cents(block) : 0), 0)
    const difference = (cents: (block: PlanBlock) => number) => sum(b, cents) - sum(a, cents)
    return [
      {
        field,
        a: was,
        b: is,
        cashCents: difference((block) => block.cashCents),
        lossCents: difference((block) => block.lossCents),
      },
    ]
  })
}

function blocksOn(plan: Plan, field: string): string[] {
  const blocks = plan.blocks.filter((block) => block.field === field)
  const left = plan.leftOut.filter((each) => each.field === field)
  return [
    ...blocks.map(
      ({ variety, window, programme, acres }) =>
        `${[variety, window, ...programme].filter((part) => part !== '').join(', ')} · ${showAcres(acres)} ac`,
    ),
    ...left.map(({ acres }) => `left out · ${showAcres(acres)} ac`),
  ].sort()
}

function quotesOf(a: Plan, b: Plan): QuoteDifference[] {
  const lines = [...a.purchases, ...b.purchases]
  return namesOf(lines, (line) => line.quote).flatMap((quote) => {
    const [was, is] = [a, b].map((plan) => plan.purchases.find((line) => line.quote === quote))
    const line = (was ?? is) as Plan['purchases'][number]
    const [aPacks, bPacks] = [was?.packs ?? 0, is?.packs ?? 0]
    const cents = (is?.cents ?? 0) - (was?.cents ?? 0)
    if (Math.abs(aPacks - bPacks) <= SAME && Math.abs(cents) <= SAME) return []
    return [{ quote, dealer: line.dealer, variety: line.variety, aPacks, bPacks, cents }]
  })
}

function dealersOf(a: Plan, b: Plan): DealerDifference[] {
  return namesOf([...a.orders, ...b.orders], (order) => order.dealer).flatMap((dealer) => {
    const [aCents = 0, bCents = 0] = [a, b].map((plan) => plan.orders.find((order) => order.dealer === dealer)?.cents)
    return Math.abs(aCents - bCents) <= SAME ? [] : [{ dealer, aCents, bCents }]
  })
}

function namesOf<Thing>(things: readonly Thing[], name: (thing: Thing) => string): string[] {
  return [...new Set(things.map(name))].sort()
}

function saysOf(a: Plan, b: Plan, fields: number): string {
  const parts = [
    moreOrLess(b.totals.cashCents - a.totals.cashCents, 'cash'),
    moreOrLess(b.totals.lossCents - a.totals.lossCents, 'expected loss'),
  ].filter((part) => part !== null)
  const where = fields === 0 ? 'no field changes' : `${showCount(fields, 'field changes', 'fields change')}`
  if (parts.length === 0 && fields === 0) return 'The two plans put the same on every field for the same money.'
  return `The second plan has ${parts.length === 0 ? 'the same cash and expected loss' : parts.join(' and ')}; ${where}.`
}

/** Less than half a dollar is not told. */
function moreOrLess(cents: number, what: string): string | null {
  if (Math.abs(cents) < 50) return null
  return `${showDollars(Math.abs(cents))} ${cents > 0 ? 'more' : 'less'} ${what}`
}
