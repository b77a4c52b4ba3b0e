/** The season review and its lessons on a real farm file: from an empty season to one that was harvested. */
import { expect, test } from 'vitest'
import { reviewCommand } from '../../src-main/engine/cli-review.ts'
import { lessonKinds } from '../../src-shared/review/lesson.ts'
import { reviewTables } from '../../src-shared/review/review-table.ts'
import { pick } from '../shared/demo-farm.ts'
import { farmOf } from '../support/order-farm.ts'
import { entryOf, plainLot, spring, springFarm } from '../support/spring-farm.ts'

const fall = '2027-10-05'

/** Seed came, was planted on all fields, counted, harvested and sold. */
async function harvestedFarm() {
  const farm = await springFarm()
  const { must } = farm
  for (const line of (await farm.receipts()).filter(({ packs }) => packs > 0)) {
    const { lotId } = await farm.receive(line)
    await farm.tag(lotId, { germination: 0.8, seedsPerPound: 700 })
  }
  for (const { id, varietyId, lot, pounds } of (await must('delivery.list', {})).carried) {
    const none = { deliveryId: null, orderLineId: null, packs: null, packPounds: null, leftPounds: null, note: null }
    const own = { lotNumber: lot ?? 'own', varietyId, carriedSeedId: id, state: 'received' as const, pounds }
    await must('lot.save', { lot: { ...none, ...own, returnedPounds: 0, seedsPerPound: null } })
  }
  const { plan } = (await must('plan.latest', {}))!
  const lots = await farm.lots()
  const { fields, measures } = await must('planting.list', {})
  for (const block of plan!.blocks) {
    const lot = lots.find(({ variety, dealer }) => variety === block.variety && dealer !== null)
    if (lot === undefined) continue
    const field = pick(fields, ({ name }) => name === block.field)
    const id = await must('planting.save', {
      planting: entryOf({
        fieldId: field.id,
        acres: block.acres,
        rowPattern: field.rowPattern,
        lots: [{ lotId: lot.id, packs: null, pounds: Math.min(lot.pounds, Math.round(block.acres * 110)) }],
        measureIds: measures.slice(0, 1).map((measure) => measure.id),
      }),
      today: spring,
    })
    const spots = [32, 35, 30].map((plants) => ({ feet: 10, plants }))
    await must('stand.save', { count: { plantingId: id, countedOn: '2027-05-12', spots, note: null }, today: fall })
    const values = {
      field: block.field,
      hauledOn: '2027-09-28',
      variety: block.variety,
      ticket: `T-${block.field}-${block.variety}`,
      grossPounds: Math.round(block.acres * 3000),
      priceBasis: 'contract',
      centsPerTon: 54_000,
    }
    const done = await must('sheet.change', { sheet: 'load', says: 'Add a load', added: [{ key: 1, values }] })
    expect(done.refused).toEqual([])
  }
  return { ...farm, plan: plan! }
}

test('an empty season: nothing is made up, and every working and file is there all the same', async () => {
  const { must, call, bugs } = farmOf()
  const review = await must('review.now', {})
  expect(review.has).toEqual({ plan: false, orders: 0, lots: 0, plantings: 0, loads: 0, costs: 0, seen: 0 })
  expect(review.seed).toBeNull()
  expect(Object.values(review.side.farm).flatMap((stages) => Object.values(stages))).toEqual(Array(30).fill(null))
  expect(review.money.field.rows).toEqual([])
  expect(review.money.field.total).toMatchObject({ costCents: 0, tons: null, valueCents: null, marginCents: null })
  expect(review.margins).toEqual({ varieties: [], pairs: [] })
  expect(await must('lesson.list', {})).toMatchObject({ from: 2027, into: 2027, open: [], said: [] })
  for (const table of reviewTables) await must('review.file', { as: 'csv', table })
  expect(await call('review.now', { seasonId: 99 })).toMatchObject({ ok: false, problems: [{ code: 'unknown-name' }] })
  expect(bugs).toEqual([])
})

test('a season from plan to settlement: stages side by side, to the cent of orders, loads and bills', async () => {
  const { must, plan } = await harvestedFarm()
  const orders = await must('orders.list', {})
  const review = await must('review.now', {})
  const { farm } = review.side
  expect(farm.acres.planned).toBeCloseTo(plan.totals.acres, 6)
  expect(farm.seedCents.planned).toBe(plan.totals.seedCents)
  // All that was ordered came at the order's prices, and what was carried in was paid for before.
  expect(farm.seedCents.ordered).toBe(farm.seedCents.planned)
  expect(farm.seedCents.delivered).toBe(farm.seedCents.ordered)
  expect(farm.pounds.delivered).toBe(farm.pounds.ordered! + 600)
  expect(orders.orders.length).toBeGreaterThan(0)
  const loads = await must('load.list', {})
  expect(farm.valueCents.harvested).toBe(loads.reduce((sum, { valueCents }) => sum + (valueCents ?? 0), 0))
  expect(Math.abs(review.seed!.steps.price)).toBeLessThanOrEqual(1)
  expect(review.seed!.steps.returned).toBe(0)
  expect(review.seed!.paidCents).toBe(farm.seedCents.delivered)
  const { total } = review.money.field
  expect(total.costs.measures).toBeGreaterThan(0)
  expect(total.costs.combining).toBeGreaterThan(0)
  // The small farm lists no digger and wrote nothing down: it is said, not counted as nothing.
  expect(total.costs.digging).toBe(0)
  expect(review.notes.join(' ')).toContain('The farm lists no digger')
  expect(total.marginCents).toBe(total.valueCents! - total.costCents)
  expect(review.stands.filter(({ counts }) => counts > 0).length).toBeGreaterThan(0)
})

test('a dealer’s bill takes the place of its order, a bill of a measure that of its price, hired digging is counted', async () => {
  const { must } = await harvestedFarm()
  const before = await must('review.now', {})
  const dealer = pick(before.money.dealer.rows, ({ key }) => key !== null && /Seed$/.test(key)).key!
  const ofDealer = async () => pick((await must('review.now', {})).money.dealer.rows, ({ key }) => key === dealer)
  const was = await ofDealer()
  const paid = was.costs.seed + was.costs['seed left']
  const add = (values: Record<string, unknown>) =>
    must('sheet.change', { sheet: 'cost', says: 'Add a cost', added: [{ key: 1, values: values as never }] })
  await add({ kind: 'seed', says: 'Invoice 4', dealer, cents: paid + 12_345 })
  const now = await ofDealer()
  expect(now.costs.seed + now.costs['seed left']).toBe(paid + 12_345)
  expect((await must('review.now', {})).seed!.steps.price).toBe(before.seed!.steps.price + 12_345)
  expect((await must('review.now', {})).notes.join(' ')).toMatch(
    new RegExp(`Seed from ${dealer} is counted at \\$[\\d,.]+ by the invoice, in place of \\$[\\d,.]+ by the order`),
  )
  await add({ kind: 'digging', says: 'Hired digger', cents: 4500, perAcre: true })
  const acres = before.money.field.total.acres!
  expect((await must('review.now', {})).money.field.total.costs.digging).toBe(Math.round(acres * 4500))
  await add({ kind: 'measure', says: 'In-furrow, co-op bill', cents: 98_700 })
  expect((await must('review.now', {})).money.field.total.costs.measures).toBe(98_700)
  const working = await must('review.working', { figure: { of: 'money', view: 'field', key: '', what: 'measures' } })
  expect(working.lines[0]!.value).toBeCloseTo(987, 6)
})

test('trouble seen stands beside what was expected; fields without a word are not free of it', async () => {
  const { must, plan } = await harvestedFarm()
  const field = plan.blocks[0]!.field
  const values = { field, threat: 'spotted wilt', level: 'severe', loss: 0.1 }
  await must('sheet.change', { sheet: 'seen', says: 'Add', added: [{ key: 1, values }] })
  const wilt = pick((await must('review.now', {})).trouble, ({ threat }) => threat === 'spotted wilt')
  expect(wilt.told).toMatchObject({ fields: 1 })
  expect(wilt.told!.seenCents).toBeGreaterThan(0)
  expect(wilt.silent).toBe(new Set(plan.blocks.map((block) => block.field)).size - 1)
})

test('lessons: each is one step, says so, and is taken back to the last byte; nothing is applied alone', async () => {
  const { must, call, dump, plan } = await harvestedFarm()
  const field = plan.blocks[0]!.field
  const values = { field, threat: 'spotted wilt', level: 'severe' }
  await must('sheet.change', { sheet: 'seen', says: 'Add', added: [{ key: 1, values }] })
  const untouched = dump()
  const { open, worth } = await must('lesson.list', {})
  expect(dump()).toEqual(untouched)
  expect(worth).toEqual({ fields: 4, seasons: 1 })
  expect(open.filter(({ kind }) => !lessonKinds.includes(kind))).toEqual([])
  expect(open.map(({ kind }) => kind)).toEqual(expect.arrayContaining(['emergence', 'seed', 'price']))
  for (const lesson of open) {
    const before = dump()
    await must('lesson.take', { key: lesson.key })
    const now = await must('lesson.list', {})
    expect(now.said).toContainEqual(expect.objectContaining({ key: lesson.key, state: 'taken', old: lesson.old }))
    expect(now.open.map(({ key }) => key)).not.toContain(lesson.key)
    expect((await must('undo.state', {})).back).toBe('Take a lesson')
    await must('undo.back', {})
    expect(dump()).toEqual(before)
  }
  const emergence = pick(open, ({ kind }) => kind === 'emergence')
  await must('lesson.take', { key: emergence.key })
  const row = (await must('book.list', {}))
    .flatMap(({ rows }) => rows)
    .find(({ key }) => `book/${key}` === emergence.key)
  expect(row?.own?.value).toBe(emergence.change.value)
  expect(row?.own?.source).toContain('Season 2027')
  // What the season is held against stays as it was when the plan was made.
  const seed = pick(open, ({ kind }) => kind === 'seed')
  await must('lesson.setAside', { key: seed.key, isAside: true })
  expect((await must('lesson.list', {})).said.map(({ state }) => state)).toEqual(['taken', 'set aside'])
  await must('lesson.setAside', { key: seed.key, isAside: false })
  expect((await must('lesson.list', {})).open.map(({ key }) => key)).toContain(seed.key)
  expect(await call('lesson.take', { key: 'book/nothing' })).toMatchObject({ ok: false })
  expect(await call('lesson.take', { key: emergence.key })).toMatchObject({ ok: false })
})

test('a lesson taken does not change what the season is held against', async () => {
  const { must } = await harvestedFarm()
  const before = await must('review.now', {})
  for (const { key, kind } of (await must('lesson.list', {})).open) {
    if (kind === 'emergence' || kind === 'price' || kind === 'yield') await must('lesson.take', { key })
  }
  const after = await must('review.now', {})
  expect(after.stands).toEqual(before.stands)
  expect(after.trouble).toEqual(before.trouble)
})

test('files: a workbook of all tables, and a table as CSV with unrounded numbers and texts that do not run', async () => {
  const { must } = await harvestedFarm()
  await must('sheet.change', {
    sheet: 'cost',
    says: 'Add a cost',
    added: [{ key: 1, values: { kind: 'other', says: '=HYPERLINK("x")', cents: 100 } }],
  })
  const book = await must('review.file', { as: 'xlsx' })
  expect(book.name).toBe('Season review 2027.xlsx')
  expect(Buffer.from(book.base64, 'base64').subarray(0, 2).toString()).toBe('PK')
  const file = await must('review.file', { as: 'csv', table: 'by field' })
  const lines = Buffer.from(file.base64, 'base64').toString('utf8').trimEnd().split('\r\n')
  expect(lines[0]).toContain('Cost $/acre')
  const { rows, total } = (await must('review.now', {})).money.field
  expect(lines).toHaveLength(rows.length + 2)
  expect(lines.at(-1)!.split(',')).toContain(String(total.costCents / 100))
})

test('lessons of a season that is over go into the open one, whichever of the two is at hand', async () => {
  const { must, call } = await harvestedFarm()
  const [first, second] = (await must('lesson.list', {})).open.filter(({ kind }) => kind === 'seed' || kind === 'price')
  await must('season.roll', { crops: [] })
  const { seasons } = await must('farm.current', {}).then((farm) => farm!)
  const old = pick(seasons, ({ isOpen }) => !isOpen)
  const now = await must('lesson.list', { seasonId: old.id })
  expect(now).toMatchObject({ from: 2027, into: 2028 })
  expect(now.open.map(({ key }) => key)).toEqual(expect.arrayContaining([first!.key, second!.key]))
  await must('lesson.take', { seasonId: old.id, key: first!.key })
  // While the old season is read: what is written goes into the open one all the same.
  await must('season.open', { id: old.id })
  const before = await must('review.now', {})
  await must('lesson.take', { key: second!.key })
  expect(await must('review.now', {})).toEqual(before)
  expect((await must('lesson.list', {})).said.map(({ key }) => key)).toEqual([first!.key, second!.key])
  const refused = await call('book.set', { key: 'price/peanuts', value: 1 })
  expect(refused).toMatchObject({ ok: false, problems: [{ code: 'closed-season' }] })
})

test('the review on the command line: tables, one table as CSV, or all of it as data', async () => {
  const { engine, must } = await harvestedFarm()
  const review = await must('review.now', {})
  const { path } = engine.farm!
  engine.farm!.close()
  const run = async (options: { json?: boolean; csv?: boolean }) => {
    const done = await reviewCommand(path, { json: false, csv: false, ...options })
    if (!done.ok) throw new Error(JSON.stringify(done.problems))
    return done.value
  }
  expect(JSON.parse(await run({ json: true }))).toEqual(JSON.parse(JSON.stringify(review)))
  expect((await run({ csv: true })).split('\r\n')[0]).toContain('Field,Acres')
  const text = await run({})
  for (const words of ['Planned', 'paid, credits taken off', 'By field', 'By lot', 'Left an acre']) {
    expect(text).toContain(words)
  }
  expect(await reviewCommand(`${path}.none`, { json: false, csv: false })).toMatchObject({ ok: false })
})

test('what is not known is said: loads without a planting, seed without a price, seed carried in no lot, half-finished plantings', async () => {
  const farm = await springFarm()
  const { must } = farm
  const line = pick(await farm.receipts(), ({ packs }) => packs > 0)
  const { deliveryId } = await farm.receive(line)
  // A lot of a variety that its dealer neither was asked for nor quotes.
  const quoted = (await must('quote.list', {})).filter(({ dealer }) => dealer === line.quote.split(' · ')[0])
  const strange = pick(await must('variety.list', {}), ({ name }) => !quoted.some(({ variety }) => variety === name))
  const lot = { ...plainLot(line, deliveryId), lotNumber: 'X-1', orderLineId: null, varietyId: strange.id }
  await must('lot.save', { lot })
  const values = { field: 'Hill', variety: 'Amber', hauledOn: '2027-09-28', grossPounds: 20_000 }
  await must('sheet.change', { sheet: 'load', says: 'Add a load', added: [{ key: 1, values }] })
  const { fields } = await must('planting.list', {})
  const half = { fieldId: fields[0]!.id, isFinished: false, plantedOn: null, acres: null, lots: [] }
  await must('planting.save', { planting: entryOf(half), today: spring })
  const review = await must('review.now', {})
  const notes = review.notes.join('\n')
  expect(notes).toContain('No price is known of lot X-1')
  expect(notes).toContain('1 planting is not finished')
  expect(notes).toContain('Hill has loads but no finished planting')
  expect(notes).toMatch(/tons have no price yet/)
  const hill = pick(review.money.field.rows, ({ key }) => key === 'Hill')
  expect(hill).toMatchObject({ acres: null, marginCents: null })
  expect(hill.unpricedTons).toBeCloseTo(hill.tons!, 9)
  const plan = (await must('plan.latest', {}))!.plan!
  const carried = plan.seed.find(({ carriedPounds }) => carriedPounds > 0)
  if (carried) expect(notes).toContain(`lb of ${carried.variety} carried in, which is in no lot`)
})

test('a seed invoice below zero is refused, typed or changed, and a return credit is named instead', async () => {
  const { must } = await harvestedFarm()
  const change = (given: object) =>
    must('sheet.change', { sheet: 'cost', says: 'Change', cells: [], added: [], removed: [], ...given } as never)
  const bad = await change({ added: [{ key: 1, values: { kind: 'seed', says: 'Credit', cents: -24_059 } }] })
  expect(bad.refused[0]?.problem).toMatchObject({ what: expect.stringContaining('cannot be below $0') })
  expect(bad.refused[0]?.problem.remedy).toContain('return credit')
  const { added } = await change({ added: [{ key: 1, values: { kind: 'other', says: 'Credit', cents: -24_059 } }] })
  const id = added[0]!.id
  expect((await change({ cells: [{ id, path: 'kind', value: 'seed' }] })).refused).toHaveLength(1)
  expect((await change({ cells: [{ id, path: 'cents', value: 24_059 }] })).refused).toEqual([])
})
