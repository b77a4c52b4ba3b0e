/**
 * A farm of 84 lots whose engine answers 0.4 s late, and a person who types a key every 15 ms and waits for nothing: what was
 * typed into grids, tags, weights that went back, plantings and stand counts is on the page and in the farm.
 */
import type { Locator, Page } from '@playwright/test'
import { expect, test } from './fixtures.ts'
import { openPlannedFarm } from './planned-farm.ts'
import { callsOf, orderPlan, type Must } from './season-in.ts'
import { go } from './stages.ts'
import { frames } from './frames.ts'

test.setTimeout(240_000)

const wanted = 84
const late = 400 // [ms]
const key = { delay: 15 } // [ms]
const today = '2027-04-20'

/** Every line of the orders comes in several lots. */
async function receiveMany(must: Must): Promise<void> {
  const dealers = (await must('delivery.list', {})).dealers.filter(({ lines }) => lines.some(({ packs }) => packs > 0))
  const lines = dealers.flatMap((dealer) =>
    dealer.lines.filter(({ packs }) => packs > 0).map((line) => ({ ...line, dealerId: dealer.dealerId })),
  )
  const loads = new Map<number, number>()
  for (const { dealerId } of dealers) {
    const delivery = { dealerId, arrivedOn: '2027-04-10', ticket: null, scalePounds: null, note: null }
    loads.set(dealerId, await must('delivery.save', { delivery, today }))
  }
  for (let at = 0; at < wanted; at += 1) {
    const line = lines[at % lines.length]!
    const packs = Math.max(1, Math.floor(line.packs / Math.ceil(wanted / lines.length)))
    await must('lot.save', {
      lot: {
        ...{ lotNumber: `L-${String(at + 1).padStart(2, '0')}`, varietyId: line.varietyId, carriedSeedId: null },
        ...{ deliveryId: loads.get(line.dealerId)!, orderLineId: line.lineId, state: 'received', packs },
        ...{ packPounds: line.packPounds, pounds: packs * line.packPounds, returnedPounds: 0, leftPounds: null },
        ...{ seedsPerPound: null, note: null },
      },
    })
  }
}

/** Calls that are not answered yet. */
let unanswered = 0

async function answerLate(page: Page) {
  await page.route('**/call/**', async (route) => {
    unanswered += 1
    try {
      const response = await route.fetch()
      await new Promise((resolve) => setTimeout(resolve, late))
      await route.fulfill({ response })
    } finally {
      unanswered -= 1
    }
  })
}

/** Everything sent is answered, and the page has stopped asking. */
async function quiet(page: Page) {
  do {
    await expect.poll(() => unanswered).toBe(0)
    // What an answer makes the page ask is asked a few frames later.
    await frames(page, 20)
  } while (unanswered > 0)
}

test('nothing that is typed is lost, however late the engine answers', async ({ page, standwell }) => {
  const must = callsOf(standwell)
  await openPlannedFarm(standwell)
  await orderPlan(must)
  await receiveMany(must)
  await page.clock.setFixedTime(new Date(`${today}T10:00:00`))
  await page.goto(standwell.address)
  await expect(page.getByRole('heading', { level: 1, name: 'Plan' })).toBeVisible()
  await answerLate(page)
  const main = page.getByRole('main')

  // A grid: a column of figures downwards, one cell changed twice and one back again, and a new row begun and gone on in.
  await go(page, 'fields')
  const grid = page.getByRole('grid', { name: 'Fields' })
  const cell = (row: number, column: number) => grid.locator(`tr[data-line="${row}"] .cell`).nth(column)
  await expect(cell(0, 0)).toBeVisible()
  const heads = (await grid.getByRole('columnheader').allInnerTexts()).map((head) => head.split('\n')[0]!.trim())
  const [planted, goal] = [heads.indexOf('Planted'), heads.indexOf('Yield goal')]
  const before = await must('field.list', {})
  await cell(0, goal).click()
  for (let row = 0; row < 8; row += 1) {
    await page.keyboard.type(String(4101 + row), key)
    await page.keyboard.press('Enter')
  }
  await cell(0, planted).click()
  const acres = before.map((field) => field.acres)
  await page.keyboard.type('77', key)
  await page.keyboard.press('Enter')
  await page.keyboard.press('ArrowUp')
  await page.keyboard.type('78', key)
  await page.keyboard.press('Enter')
  // What the list still shows, typed over what is on its way.
  await page.keyboard.type('79', key)
  await page.keyboard.press('Enter')
  await page.keyboard.press('ArrowUp')
  await page.keyboard.type(String(acres[1]), key)
  await page.keyboard.press('Enter')
  const last = before.length
  await cell(last, heads.indexOf('Field')).click()
  await page.keyboard.type('Begun in a hurry', key)
  await page.keyboard.press('Tab')
  for (const head of heads.slice(1, 8)) {
    const text = { Planted: '12.5', Water: 'dryland', 'Yield goal': '3900', Rows: '36', Pattern: 'single' }[head]
    if (text !== undefined) await page.keyboard.type(text, key)
    await page.keyboard.press('Tab')
  }
  await cell(last, goal).click()
  await page.keyboard.type('3950', key)
  await page.keyboard.press('Enter')
  await quiet(page)
  const after = await must('field.list', {})
  const nameOf = (row: number) => before[row]!.name
  const field = (name: string) => after.find((each) => each.name === name)!
  for (let row = 0; row < 8; row += 1) expect(field(nameOf(row)).yieldGoalLb, nameOf(row)).toBe(4101 + row)
  expect([field(nameOf(0)).acres, field(nameOf(1)).acres]).toEqual([78, acres[1]])
  expect(after).toHaveLength(before.length + 1)
  expect(field('Begun in a hurry')).toMatchObject({ acres: 12.5, yieldGoalLb: 3950, water: 'dryland' })
  await expect(cell(0, planted)).toHaveText('78')
  await expect(cell(last, goal)).toHaveText('3,950')

  // The tag of a lot item by item, and what of it went back and was counted.
  await go(page, 'deliveries')
  const lot = (name: string) => main.getByRole('button', { name, exact: true })
  await lot('L-07').click()
  const item = (name: string) => page.getByLabel(`${name}, tag of lot L-07`)
  const typed = {
    'Pure seed, %': '98',
    'Other crop seed, %': '0.1',
    'Inert matter, %': '1.9',
    'Weed seed, %': '0',
    'Germination, %': '82',
    'Hard seed, %': '1',
    'Tested in, as 2027-01': '2026-10',
    'Treated with': 'a fungicide',
    'Seeds a pound': '640',
    'Net weight of a pack, lb': '50',
  }
  const type = async (box: Locator, text: string) => {
    await box.focus()
    await box.selectText()
    await page.keyboard.type(text, key)
  }
  for (const [name, text] of Object.entries(typed)) await type(item(name), text)
  // Once more while the first is on its way.
  await type(item('Germination, %'), '84')
  await type(item('Pure seed, %'), '97')
  await type(item('Inert matter, %'), '2.9')
  await type(page.getByLabel('Pounds of lot L-07 sent back'), '20')
  await type(page.getByLabel('Pounds of lot L-07 left, as counted'), '12')
  await type(page.getByLabel('Pounds of lot L-07 sent back'), '40')
  await page.keyboard.press('Tab')
  await quiet(page)
  const lots = async () => {
    const { dealers, onHand } = await must('delivery.list', {})
    return [...dealers.flatMap(({ deliveries }) => deliveries.flatMap((delivery) => delivery.lots)), ...onHand]
  }
  expect((await lots()).filter(({ lotNumber }) => lotNumber.startsWith('L-'))).toHaveLength(wanted)
  const own = (await lots()).find(({ lotNumber }) => lotNumber === 'L-07')!
  expect(own).toMatchObject({ returnedPounds: 40, leftPounds: 12 })
  expect(own.tag).toMatchObject({
    ...{ pureSeed: 0.97, otherCrop: 0.001, inert: 0.029, weedSeed: 0, germination: 0.84, hardSeed: 0.01 },
    ...{ testedIn: '2026-10', treatment: 'a fungicide', seedsPerPound: 640, netPounds: 50 },
  })
  for (const [name, text] of Object.entries({
    ...typed,
    'Germination, %': '84',
    'Pure seed, %': '97',
    'Inert matter, %': '2.9',
  }))
    await expect(item(name)).toHaveValue(text)
  await expect(page.getByLabel('Pounds of lot L-07 sent back')).toHaveValue('40')

  // A planting, kept as it is typed and finished in the same breath; then its stand, and the next one's begun at once.
  await go(page, 'planting')
  await page.getByRole('button', { name: 'Begin a planting' }).click()
  const form = page.getByRole('form', { name: 'A new planting' })
  const choice = form.getByRole('combobox', { name: 'Lot' })
  // Of the planned variety, with seed enough, at about the rate that is set: what looks like a slip would be asked about.
  const [ground] = (await must('planting.list', {})).fields
  const { blocks } = (await must('plan.latest', {}))!.plan!
  const planned = blocks.filter((block) => block.field === ground!.name).map(({ variety }) => variety)
  const [most] = (await lots())
    .filter(({ name, variety }) => name !== 'L-07' && planned.includes(variety))
    .sort((one, other) => other.pounds - one.pounds)
  await choice.selectOption(await choice.locator('option', { hasText: `${most!.name},` }).getAttribute('value'))
  const boxes = { Acres: '2', Bags: '6', 'Set to': '6', Depth: '2', Operator: 'the foreman' }
  for (const [name, text] of Object.entries(boxes))
    await type(form.getByRole('textbox', { name: new RegExp(`^${name}`) }), text)
  await type(form.getByRole('textbox', { name: /^Acres/ }), '3')
  await form.getByRole('button', { name: 'Finish' }).click()
  await expect(form).toBeHidden()
  await quiet(page)
  const { plantings } = await must('planting.list', {})
  expect(plantings).toMatchObject([
    {
      acres: 3,
      isFinished: true,
      seedsPerFoot: 6,
      depthIn: 2,
      operator: 'the foreman',
      lots: [{ name: most!.name, packs: 6 }],
    },
  ])

  await page.getByRole('button', { name: /^Stands/ }).click()
  await page.getByRole('button', { name: 'Count', exact: true }).click()
  const spot = (at: number) => page.getByRole('textbox', { name: new RegExp(`^Spot ${at}`) })
  for (const [at, plants] of ['41', '42', '43'].entries()) await type(spot(at + 1), plants)
  await page.keyboard.press('Enter')
  // A fourth spot occurs to him before the form is gone.
  await type(spot(4), '39')
  await quiet(page)
  await expect(spot(4)).toHaveValue('39')
  await expect(spot(1)).toHaveValue('')
  const [planting] = (await must('planting.list', {})).plantings
  expect(planting!.counts).toMatchObject([{ stand: { spots: 3 } }])
})
