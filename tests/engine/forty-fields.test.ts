/**
 * The bookkeeper's question, on a farm of forty fields that came in by paste: whatever is added up, it comes to the same
 * cent. The plan's lines, the orders, the order files, what dealers still owe, the lots, the bills and the review are each
 * added up here anew, from their own rows.
 */
import { expect, onTestFinished, test } from 'vitest'
import { parse } from 'csv-parse/sync'
import { fileOfBlock } from '../../src-renderer/sheet/file-bytes.ts'
import { sumsOf } from '../../src-shared/order.ts'
import type { SheetName } from '../../src-shared/sheet/sheet.ts'
import { isHeaded } from '../../src-shared/sheet/match-columns.ts'
import { columnsOf } from '../../src-shared/sheet/columns.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { lookAt } from '../support/import-file.ts'
import * as farm from '../support/forty-fields.ts'
import { harvestAndBill, receiveAndPlant } from '../windows/season-in.ts'

const today = '2027-01-20'
const threats = ['early leaf spot', 'late leaf spot', 'root-knot nematode', 'southern stem rot', 'spotted wilt']

/** As the window does it with a block that has headings of its own. */
async function paste({ must }: TestEngine, sheet: SheetName, rows: farm.Rows) {
  const heads = [...new Set(rows.flatMap((row) => Object.keys(row)))]
  // Out of order, as a farm's own spreadsheet is.
  heads.reverse()
  const block = [heads, ...rows.map((row) => heads.map((head) => row[head] ?? ''))]
  expect(isHeaded(block, columnsOf(sheet, { threats }))).toBe(true)
  const file = fileOfBlock(block)
  // Bare figures do not say which end is the resistant one.
  const answers = { 'scale/rating': '1-9-bad' }
  const choices = sheet === 'variety' ? { [`${file.name}//0`]: { answers } } : {}
  const looked = await lookAt({ must }, sheet, file, { choices })
  expect(looked.columns).not.toContain(null)
  expect(looked.asks).toEqual([])
  const taken = await looked.take()
  expect(taken).toMatchObject({ isDone: true, counts: { added: rows.length, refused: 0 } })
}

async function pastedFarm(): Promise<TestEngine> {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.start', { name: 'Forty', season: 2027 })
  await paste(host, 'field', farm.fields)
  await paste(host, 'variety', farm.varieties)
  await paste(host, 'dealer', farm.dealers)
  await paste(host, 'quote', farm.quotes)
  // No variety takes the whole farm, so that several dealers and their breaks are in it.
  const values = { rule: 'largest-share', amount: 0.35, isOn: true }
  const { refused } = await host.must('sheet.change', { sheet: 'rule', says: 'Share', added: [{ key: 1, values }] })
  expect(refused).toEqual([])
  return host
}

const sum = (figures: readonly number[]) => figures.reduce((total, figure) => total + figure, 0)
/** A CSV's dollars, as whole cents. */
const cents = (text: string | undefined) => Math.round(Number(text) * 100)

async function rowsOf(base64: string): Promise<Record<string, string>[]> {
  return parse(Buffer.from(base64, 'base64'), { columns: true, bom: true }) as Record<string, string>[]
}

test(
  'forty pasted fields: plan, orders, files, deliveries and review come to the same cent',
  { timeout: 300_000 },
  async () => {
    const host = await pastedFarm()
    const { must } = host
    const fields = await must('field.list', {})
    expect(fields).toHaveLength(40)
    expect(sum(fields.map(({ acres }) => acres))).toBeCloseTo(sum(farm.fields.map((row) => Number(row['Planted']))), 6)

    const plan = (await must('plan.solve', { gap: 0.01, seconds: 40 })).plan!
    const { totals } = plan
    // The plan within itself: lines, less what is off, with the fees, dealer by dealer and in all.
    for (const order of plan.orders) {
      const own = plan.purchases.filter(({ dealer }) => dealer === order.dealer)
      expect(sum(own.map(({ pounds }) => pounds))).toBe(sum(own.map(({ packs, packPounds }) => packs * packPounds!)))
      for (const line of own) expect(line.cents).toBe(line.packs * line.packPriceCents!)
    }
    expect(sum(plan.orders.map((order) => order.cents))).toBe(totals.seedCents)
    expect(new Set(plan.purchases.map(({ dealer }) => dealer)).size).toBeGreaterThan(2)
    expect(sum(plan.blocks.map(({ acres }) => acres))).toBeCloseTo(totals.acres, 6)

    // The orders, each added up from its lines.
    await must('orders.make', { today })
    const { orders } = await must('orders.list', {})
    const sums = orders.map((order) => sumsOf(order))
    expect(sum(sums.map((each) => each.cents))).toBe(totals.seedCents)
    expect(sum(sums.map((each) => each.packs))).toBe(totals.packs)
    for (const order of orders) {
      const planned = plan.orders.find(({ dealer }) => dealer === order.dealer)!
      expect(sumsOf(order).cents).toBe(planned.cents)
      const lines = sum(order.lines.map(({ packs, packPriceCents }) => packs * packPriceCents))
      expect(sumsOf(order).cents).toBe(lines - sumsOf(order).offCents + sumsOf(order).feeCents)
    }

    // Their files: all in one, and dealer by dealer.
    const all = await rowsOf((await must('orders.file', { id: null, as: 'csv' })).base64)
    const isTotal = (row: Record<string, string>) => row['Quote'] === 'Total'
    // Told below the total, and a part of it.
    const isDeposit = (row: Record<string, string>) => row['Quote']!.startsWith('Deposit')
    const amounts = (rows: Record<string, string>[]) => sum(rows.map((row) => cents(row['Amount ($)'])))
    expect(amounts(all.filter(isTotal))).toBe(totals.seedCents)
    expect(amounts(all.filter((row) => !isTotal(row) && !isDeposit(row)))).toBe(totals.seedCents)
    expect(sum(all.filter((row) => row['Variety'] !== '').map((row) => Number(row['Packs'])))).toBe(totals.packs)
    for (const order of orders) {
      const own = await rowsOf((await must('orders.file', { id: order.id, as: 'csv' })).base64)
      expect(own).toEqual(all.filter((row) => row['Dealer'] === order.dealer))
    }

    // Everything is confirmed: what is owed is what was ordered.
    const lines = orders.flatMap((order) => order.lines.map(({ id }) => id))
    await must('orders.mark', { lines, mark: { state: 'confirmed', on: '2027-01-25' }, says: 'Confirm' })
    const pounds = sum(sums.map((each) => each.pounds))
    const owed = async () => sum((await must('delivery.list', {})).dealers.map(({ owedPounds }) => owedPounds))
    expect(await owed()).toBe(pounds)

    await receiveAndPlant(must)
    expect(await owed()).toBe(0)
    const delivered = (await must('review.now', {})).side.farm
    expect(delivered.seedCents).toMatchObject({ planned: totals.seedCents, ordered: totals.seedCents })
    expect(delivered.packs).toMatchObject({ planned: totals.packs, ordered: totals.packs, delivered: totals.packs })
    expect(delivered.pounds).toMatchObject({ ordered: pounds, delivered: pounds })
    expect(delivered.seedCents.delivered).toBe(totals.seedCents)

    // Fall: loads, an invoice in the place of an order, rent, insurance, a hired digger.
    await harvestAndBill(must)
    const review = await must('review.now', {})
    const loads = await must('load.list', {})
    expect(review.side.farm.valueCents.harvested).toBe(sum(loads.map(({ valueCents }) => valueCents ?? 0)))
    for (const table of Object.values(review.money)) {
      expect(sum(table.rows.map(({ costCents }) => costCents))).toBe(review.money.field.total.costCents)
      expect(sum(table.rows.map(({ valueCents }) => valueCents ?? 0))).toBe(review.side.farm.valueCents.harvested)
      for (const { costs, costCents } of table.rows) expect(sum(Object.values(costs))).toBe(costCents)
    }
    const seed = review.seed!
    expect(seed.plannedCents).toBe(totals.seedCents)
    expect(seed.plannedCents + sum(Object.values(seed.steps))).toBe(seed.paidCents)

    // The review's files say what its page says.
    for (const [table, view] of [
      ['by field', 'field'],
      ['by variety', 'variety'],
      ['by dealer', 'dealer'],
      ['by lot', 'lot'],
    ] as const) {
      const rows = await rowsOf((await must('review.file', { as: 'csv', table })).base64)
      expect(cents(rows.at(-1)!['Cost $'])).toBe(review.money[view].total.costCents)
      expect(sum(rows.slice(0, -1).map((row) => cents(row['Cost $'])))).toBe(review.money.field.total.costCents)
    }
    const walk = await rowsOf((await must('review.file', { as: 'csv', table: 'seed cost' })).base64)
    expect(cents(walk.at(-1)!['Paid $'])).toBe(seed.paidCents)
    expect(host.bugs).toEqual([])
  },
)
