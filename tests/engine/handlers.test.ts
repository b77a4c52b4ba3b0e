/** The calls of the contract on a real file: lists, cells, locks, plans that go stale, undo, opening and closing. */
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { createEngine } from '../../src-main/engine/engine.ts'
import { lastFarm } from '../../src-main/engine/recent.ts'
import { handlers } from '../../src-main/engine/handlers.ts'
import type { CellValue, SheetName } from '../../src-shared/sheet/sheet.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { dumpOf, smallSeason } from '../support/open-file.ts'

function host(): TestEngine {
  const engine = startTestEngine()
  onTestFinished(() => engine.close())
  return engine
}

/** An engine with the small season open. */
function smallFarm(): TestEngine {
  const test = host()
  const made = createFarm(join(test.engine.home, 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  test.engine.farm = made.value
  return test
}

/** One cell, as the grid sends it; the problems of a cell that was not taken are thrown. */
async function set(
  must: TestEngine['must'],
  sheet: SheetName,
  { id, column, value }: { id: number; column: string; value: CellValue },
) {
  const { refused } = await must('sheet.change', {
    sheet,
    says: `Change a ${sheet}`,
    cells: [{ id, path: column, value } as never],
  })
  if (refused.length > 0) throw new Error(JSON.stringify(refused))
}

const codeOf = (reply: { ok: boolean; problems?: { code: string }[] }) => reply.problems?.map((problem) => problem.code)

test('lists come sorted, with what the grid shows beside the season', async () => {
  const { must } = smallFarm()
  const fields = await must('field.list', {})
  expect(fields.map(({ id, name, lockedTo, yearsOut }) => ({ id, name, lockedTo, yearsOut }))).toEqual([
    { id: 1, name: 'Creek Bottom', lockedTo: null, yearsOut: 2 },
    { id: 2, name: 'Hill', lockedTo: 'Amber', yearsOut: null },
    { id: 3, name: 'Long Field', lockedTo: null, yearsOut: null },
  ])
  expect((await must('variety.list', {})).map((row) => row.name)).toEqual(['Amber', 'Bison', 'Cedar'])
  const quotes = await must('quote.list', {})
  // $45.50 for 50 lb at 680 seeds a pound.
  expect(quotes[0]?.centsPerThousandSeeds).toBeCloseTo(4550 / 34, 9)
  expect(quotes[0]?.breaks).toHaveLength(2)
  expect(await must('farm.current', {})).toMatchObject({
    name: 'Test Farm',
    county: 'Nowhere',
    fileName: 'Small.farm',
    season: 2027,
    isDemo: false,
    fields: 3,
    acres: expect.closeTo(189.4, 9),
  })
})

test('a cell is written, announced, taken back and done again', async () => {
  const { must, news } = smallFarm()
  await set(must, 'field', { id: 1, column: 'acres', value: 92 })
  expect((await must('field.list', {}))[0]?.acres).toBe(92)
  expect(news).toContainEqual(expect.objectContaining({ kind: 'changed', tables: ['field', 'undo'] }))
  expect(await must('undo.state', {})).toEqual({ back: 'Change a field', forward: null })
  expect(await must('undo.back', {})).toEqual({ back: null, forward: 'Change a field' })
  expect((await must('field.list', {}))[0]?.acres).toBe(88)
  await must('undo.forward', {})
  expect((await must('field.list', {}))[0]?.acres).toBe(92)
})

test.each([[{ fieldId: 1, variety: 'Nobody' }], [{ fieldId: 99, variety: null }]])(
  'lock.set %j is refused, and nothing is written',
  async (input) => {
    const { server, engine } = smallFarm()
    const before = dumpOf(engine.farm!.connection)
    expect(codeOf(await server.call('lock.set', input))).toEqual(['unknown-name'])
    expect(dumpOf(engine.farm!.connection)).toEqual(before)
  },
)

test('every column of every grid takes a good value and gives it back; optional ones can be emptied', async () => {
  const { must } = smallFarm()
  const fieldCells = {
    name: 'Creek',
    acres: 0.5,
    rowSpacingIn: 30,
    rowPattern: 'single',
    water: 'dryland',
    soil: 'clay',
    tillage: 'strip',
    nematodesPer100cc: 0,
    growth: 'slow',
    yieldGoalLb: 4000,
    note: 'ok',
  } as const
  for (const [column, value] of Object.entries(fieldCells)) {
    await set(must, 'field', { id: 1, column: column, value })
  }
  expect((await must('field.list', {}))[0]).toMatchObject(fieldCells)
  for (const column of ['soil', 'nematodesPer100cc', 'note'] as const)
    await set(must, 'field', { id: 1, column, value: null })
  const [emptied] = await must('field.list', {})
  expect([emptied?.soil, emptied?.nematodesPer100cc, emptied?.note]).toEqual([undefined, undefined, undefined])
  const varietyCells = {
    name: 'Acorn',
    oilType: 'normal',
    seedsPerPound: 700,
    germination: 0.9,
    vine: 'very large',
    daysToMaturity: 150,
    yieldIndex: 1.1,
    gradeIndex: 1.02,
    note: 'n',
  } as const
  for (const [column, value] of Object.entries(varietyCells)) {
    await set(must, 'variety', { id: 1, column: column, value })
  }
  expect((await must('variety.list', {}))[0]).toMatchObject(varietyCells)
  const quoteCells = {
    name: 'spring',
    packPounds: 60,
    packPriceCents: 5000,
    availablePacks: 9,
    leastPacks: 2,
    orderBy: '2027-03-01',
    returnBy: '2027-06-01',
    returnCredit: 0.5,
    note: 'q',
  } as const
  for (const [column, value] of Object.entries(quoteCells)) {
    await set(must, 'quote', { id: 1, column: column, value })
  }
  expect((await must('quote.list', {})).find((row) => row.id === 1)).toMatchObject(quoteCells)
})

test('a renamed variety keeps its locks, quotes and rules', async () => {
  const { must, engine } = smallFarm()
  await set(must, 'variety', { id: 1, column: 'name', value: 'Alder' })
  expect((await must('field.list', {}))[1]?.lockedTo).toBe('Alder')
  expect((await must('quote.list', {})).some((row) => row.variety === 'Alder')).toBe(true)
  expect(engine.farm!.connection.prepare(`SELECT count(*) FROM house_rule WHERE varietyId = 1`).pluck().get()).toBe(1)
})

test(
  'a plan is solved, kept with what it was made from, and says what has changed since',
  { timeout: 300_000 },
  async () => {
    const { must, engine, news } = smallFarm()
    expect(await must('plan.latest', {})).toBeNull()
    const solved = await must('plan.solve', {})
    expect(solved.proof.status).toBe('proven')
    expect(solved.plan?.blocks.find((block) => block.field === 'Hill')?.variety).toBe('Amber')
    expect(solved).toMatchObject({ isStale: false, changes: [] })
    expect(await must('plan.latest', {})).toEqual(solved)
    const { connection } = engine.farm!
    expect(connection.prepare('SELECT count(*) FROM plan_purchase WHERE quoteId IS NOT NULL').pluck().get()).toBe(
      solved.plan!.purchases.length,
    )
    await set(must, 'field', { id: 1, column: 'note', value: 'gate mended' })
    expect((await must('plan.latest', {}))?.isStale).toBe(false)
    await set(must, 'field', { id: 1, column: 'acres', value: 92 })
    expect(await must('plan.latest', {})).toMatchObject({
      isStale: true,
      changes: ['Acres of Creek Bottom were 88, now 92.'],
    })
    await must('undo.back', {})
    expect((await must('plan.latest', {}))?.isStale).toBe(false)
    expect(news.some((item) => item.kind === 'progress')).toBe(true)
  },
)

test(
  'one plan at a time; stopping says whether there was one; other calls go on meanwhile',
  { timeout: 300_000 },
  async () => {
    const { call, must } = smallFarm()
    expect(await must('plan.stop', {})).toBe(false)
    const first = call('plan.solve', {})
    expect(codeOf(await call('plan.solve', {}))).toEqual(['busy'])
    await set(must, 'field', { id: 3, column: 'acres', value: 61 })
    expect(await must('plan.stop', {})).toBe(true)
    await first
    expect(await must('plan.stop', {})).toBe(false)
    expect((await must('plan.solve', {})).proof.status).toBe('proven')
  },
)

test('a farm closed while its plan is worked out gets no plan, and nothing breaks', { timeout: 300_000 }, async () => {
  const { call, must, bugs } = smallFarm()
  const solving = call('plan.solve', {})
  await must('field.list', {})
  await must('farm.close', {})
  expect(codeOf(await solving)).toEqual(['no-farm'])
  expect(bugs).toEqual([])
})

test('without a farm every call that needs one says so', async () => {
  const { call, must } = host()
  expect(await must('farm.current', {})).toBeNull()
  expect(codeOf(await call('field.list', {}))).toEqual(['no-farm'])
  expect(codeOf(await call('sheet.change', { sheet: 'field', says: 'x' }))).toEqual(['no-farm'])
  expect(codeOf(await call('plan.solve', {}))).toEqual(['no-farm'])
  expect(codeOf(await call('undo.back', {}))).toEqual(['no-farm'])
})

test('a new farm gets a file of its own name, never another farm’s', async () => {
  const { must, engine } = host()
  expect(await must('farm.start', { name: 'Oak: Hill', season: 2027 })).toMatchObject({
    name: 'Oak: Hill',
    fileName: 'Oak Hill.farm',
    season: 2027,
    isDemo: false,
    fields: 0,
    acres: 0,
  })
  expect((await must('farm.start', { name: 'Oak: Hill', season: 2028 })).fileName).toBe('Oak Hill 2.farm')
  expect(readdirSync(engine.home).filter((name) => name.endsWith('.farm'))).toEqual([
    'Oak Hill 2.farm',
    'Oak Hill.farm',
  ])
})

test('a farm that was closed is listed and opened again as it was left; nothing else is', async () => {
  const { must, call, engine } = host()
  await must('farm.start', { name: 'Oak', season: 2027 })
  await set(must, 'threat', { id: 1, column: 'note', value: 'seen' })
  await must('farm.close', {})
  const elm = await must('farm.start', { name: 'Elm', season: 2028 })
  await must('farm.close', {})
  expect((await must('farm.list', {})).map(({ fileName }) => fileName).toSorted()).toEqual(['Elm.farm', 'Oak.farm'])
  expect(await must('farm.open', { fileName: 'Oak.farm' })).toMatchObject({ name: 'Oak', season: 2027 })
  expect(await must('undo.state', {})).toEqual({ back: 'Change a threat', forward: null })
  // The open one is opened once more without harm; another takes its place and is remembered.
  expect(await must('farm.open', { fileName: 'Oak.farm' })).toMatchObject({ name: 'Oak' })
  expect(await must('farm.open', { fileName: 'Elm.farm' })).toEqual(elm)
  expect(lastFarm(engine.home)).toMatch(/Elm\.farm$/)
  for (const fileName of ['../Oak.farm', 'recent.json', 'None.farm']) {
    expect(await call('farm.open', { fileName })).toMatchObject({ ok: false, problems: [{ code: 'bad-file' }] })
  }
  expect(await must('farm.current', {})).toEqual(elm)
})

test('a restart goes on with the farm that was open; a closed one stays closed', async () => {
  const { must, engine } = host()
  await must('farm.start', { name: 'Oak', season: 2027 })
  engine.farm!.close()
  engine.farm = null
  const restart = () => createEngine({ home: engine.home, say: () => undefined, noteBug: () => undefined })
  const next = restart()
  expect(await handlers['field.list'](next, {})).toEqual([])
  expect(await handlers['farm.current'](next, {})).toMatchObject({ name: 'Oak' })
  await handlers['farm.close'](next, {})
  expect(await handlers['farm.current'](next, {})).toBeNull()
  expect(await handlers['farm.current'](restart(), {})).toBeNull()
})
