/** A plan as plain text: the order of each dealer, then what goes on each field, then the money. */
import { blockWords, dugWeeks, plantedWeeks, showWeeks } from '../../../src-shared/calendar-order.ts'
import { marginsOf } from '../../../src-shared/margin.ts'
import type { Conflict, Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import { ruleOf } from '../../../src-shared/rule.ts'
import type { Season } from '../../../src-shared/season.ts'
import { showAcres, showCents, showCount, showDollars, showPerAcre, showWhole } from '../../../src-shared/show.ts'
import { textTable } from './text-table.ts'

/** @param season that it was made from; null where only its problem is known */
export function planText({ plan, proof }: SolvedPlan, season: Pick<Season, 'rules' | 'fields'> | null): string {
  if (plan === null) return `${[proof.says, ...conflictLines(proof.conflict)].join('\n')}\n`
  const { totals } = plan
  const lines = plan.purchases.map((line) => [
    line.dealer,
    line.quote.startsWith(`${line.dealer} · `) ? line.quote.slice(line.dealer.length + 3) : line.quote,
    showWhole(line.packs),
    showWhole(line.packPounds),
    showCents(line.packPriceCents),
    showCents(line.cents),
  ])
  const orders = plan.orders.map((order) => [
    order.dealer,
    showWhole(order.pounds),
    showCents(order.feeCents),
    showCents(order.offCents),
    showCents(order.cents),
  ])
  const margins = marginsOf(plan)
  const hasWeeks = plan.blocks.every(({ planted }) => planted !== undefined)
  const blocks = plan.blocks.map((block, at) => [
    block.field,
    block.variety,
    hasWeeks ? showWeeks(plantedWeeks(block)) : block.window,
    hasWeeks ? showWeeks(dugWeeks(block)) : '',
    showAcres(block.acres),
    block.poundsPerAcre.toFixed(1),
    showPerAcre(block.cashCents, block.acres),
    showPerAcre(block.lossCents, block.acres),
    block.yieldLb === undefined ? '' : showWhole(block.yieldLb),
    perAcre(margins[at] ?? null, block.acres),
    block.programme.join(' + '),
  ])
  const left = plan.leftOut.map((each) => [
    each.field,
    '(left out)',
    '',
    '',
    showAcres(each.acres),
    '',
    '',
    '',
    '',
    '',
    '',
  ])
  const leavesYieldOut = season !== null && ruleOf(season.rules, 'yield-left-out') !== undefined
  const resting = season?.fields.filter(({ rests }) => rests) ?? []
  const restingAcres = resting.reduce((sum, { acres }) => sum + acres, 0)
  return [
    ...(leavesYieldOut ? ['This plan leaves yield out: it counts costs and losses only.'] : []),
    'Order',
    textTable(['Dealer', 'Quote', 'Packs', 'lb/pack', 'Price', 'Total'], lines, [2, 3, 4, 5]),
    textTable(['Dealer', 'Pounds', 'Fee', 'Break', 'To pay'], orders, [1, 2, 3, 4]),
    'Fields',
    textTable(
      [
        'Field',
        'Variety',
        hasWeeks ? 'Planted' : 'Window',
        'Dug',
        'Acres',
        'Seed lb/ac',
        'Measures',
        'Expected loss',
        'Yield lb/ac',
        'Margin/ac',
        'Program',
      ],
      [...blocks, ...left],
      [4, 5, 6, 7, 8, 9],
    ),
    ...weekLines(plan),
    `${showAcres(totals.acres)} acres, ${showWhole(totals.packs)} packs.`,
    ...(resting.length === 0
      ? []
      : [
          `${showCount(resting.length, 'field rests', 'fields rest')}, ${showAcres(restingAcres)} acres: ${resting.map(({ name }) => name).join(', ')}.`,
        ]),
    `Cash ${showDollars(totals.cashCents)} (seed ${showDollars(totals.seedCents)}, measures ${showDollars(totals.measureCents)}), ` +
      `expected loss ${showDollars(totals.lossCents)}, vine ${showDollars(totals.vineCents)}, give-up ${showDollars(totals.giveUpCents)}.`,
    ...(totals.marginCents === undefined ? [] : [`Margin ${showDollars(totals.marginCents)}.`]),
    proof.says,
    '',
  ].join('\n')
}

/** Every block whose weeks need a sentence: planted or dug in several, or dug off its best day. */
function weekLines({ blocks }: Plan): string[] {
  const told = blocks.flatMap((block) => {
    const words = blockWords(block)
    return plantedWeeks(block).length + dugWeeks(block).length > 2 || words.includes('−')
      ? [`${block.field}, ${block.variety}: ${words}`]
      : []
  })
  return told.length === 0 ? [] : ['Weeks', ...told, '']
}

/** A margin, or nothing where the plan is older than the crop's count. */
function perAcre(cents: number | null, acres: number): string {
  return cents === null ? '' : showPerAcre(cents, acres)
}

/** The rules that clash, each with what would settle it. */
function conflictLines(conflict: Conflict | undefined): string[] {
  if (conflict === undefined || conflict.rules.length === 0) return conflict === undefined ? [] : [conflict.says]
  const lead = conflict.rules.length === 1 ? 'This one cannot be kept:' : 'These cannot all be kept:'
  return [lead, ...conflict.rules.map((rule) => `  ${rule.says} ${rule.remedy}`)]
}
