/** Two windows on one farm: a change over what another has written since is refused with the new value, in sheets, lots and tags. */
import { expect, onTestFinished, test } from 'vitest'
import { columnsOf, pathOf, valueAt } from '../../../src-shared/sheet/columns.ts'
import { sheetNames, type SheetName } from '../../../src-shared/sheet/sheet.ts'
import { startTestEngine, type TestEngine } from '../../support/engine.ts'
import { springFarm, spring as today } from '../../support/spring-farm.ts'

/** The demo farm, with a row in every sheet. */
async function demo(): Promise<TestEngine> {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.openDemo', { today: '2027-01-20' })
  const field = (await host.must('field.list', {}))[0]!.name
  const load = {
    field,
    hauledOn: '2027-09-25',
    grossPounds: 40_000,
    tarePounds: 14_000,
    moisture: 0.12,
    segregation: 1,
  }
  const seen = { field, threat: 'spotted wilt', level: 'low', loss: 0.02, note: 'by the road' }
  const cost = { kind: 'other', says: 'Land rent', cents: 9500, perAcre: true, spentOn: '2027-03-01' }
  for (const [sheet, values] of [
    ['load', load],
    ['seen', seen],
    ['cost', cost],
  ] as const) {
    const { refused } = await host.must('sheet.change', { sheet, says: 'Add', added: [{ key: 1, values }] })
    expect(refused).toEqual([])
  }
  return host
}

/** As they come into a window. */
async function rowsOf(host: TestEngine, sheet: SheetName) {
  return JSON.parse(JSON.stringify(await host.must(`${sheet}.list`, {}))) as { id: number }[]
}

test.each(sheetNames)('what a list shows of a %s counts as seen, in every cell of every row', async (sheet) => {
  const host = await demo()
  const names = async (of: SheetName) => (await rowsOf(host, of)).map((row) => String(valueAt(row, 'name')))
  const columns = columnsOf(sheet, { threats: await names('threat'), windows: await names('window') })
  const rows = await rowsOf(host, sheet)
  expect(rows.length).toBeGreaterThan(0)
  const cells = rows.flatMap((row) =>
    columns.map((column) => {
      const seen = valueAt(row, pathOf(column)) as never
      return { id: row.id, path: pathOf(column), value: seen, was: seen }
    }),
  )
  const { refused } = await host.must('sheet.change', { sheet, says: 'As it is', cells })
  expect(refused.filter(({ problem }) => problem.code === 'changed-meanwhile')).toEqual([])
  const stale = cells.map((cell) => ({ ...cell, was: cell.was === null ? 'something' : null }) as never)
  const late = await host.must('sheet.change', { sheet, says: 'Late', cells: stale })
  expect(late.taken).toBe(0)
  expect(new Set(late.refused.map(({ problem }) => problem.code))).toEqual(new Set(['changed-meanwhile']))
  expect(await rowsOf(host, sheet)).toEqual(rows)
})

test('a cell that another window has changed keeps its value, and the others of the same change are written', async () => {
  const { must } = await demo()
  const [row, other] = await must('field.list', {})
  const at = (id: number, value: number, was: number) => ({ id, path: 'acres', value, was })
  await must('sheet.change', { sheet: 'field', says: 'Elsewhere', cells: [at(row!.id, 41, row!.acres)] })
  const { taken, refused, rows } = await must('sheet.change', {
    sheet: 'field',
    says: 'Here',
    cells: [at(row!.id, 55, row!.acres), at(other!.id, 56, other!.acres)],
  })
  expect(taken).toBe(1)
  expect(refused).toMatchObject([
    { key: row!.id, path: 'acres', problem: { what: 'This was changed to 41 meanwhile.' } },
  ])
  // The reply has the value of the other window, to be shown beside what was typed.
  expect(rows).toMatchObject([{ acres: 41 }, { acres: 56 }])
})

test('weights of a lot and items of its tag are written over what was seen only', async () => {
  const farm = await springFarm()
  const line = (await farm.receipts()).find(({ packs }) => packs > 0)!
  const { lotId } = await farm.receive(line)
  const { must, call } = farm
  await must('lot.set', { id: lotId, values: { returnedPounds: 50 }, was: { returnedPounds: 0 } })
  const late = { id: lotId, values: { returnedPounds: 100 }, was: { returnedPounds: 0 } }
  expect(await call('lot.set', late)).toMatchObject({
    problems: [
      { code: 'changed-meanwhile', what: 'This was changed to 50 meanwhile.', where: { column: 'returnedPounds' } },
    ],
  })
  // Another value of the lot is no obstacle.
  await must('lot.set', { id: lotId, values: { leftPounds: 7 }, was: { leftPounds: null } })
  await must('tag.set', { lotId, items: { germination: 0.9 }, was: { germination: null }, today })
  expect(
    await call('tag.set', { lotId, items: { germination: 0.8 }, was: { germination: null }, today }),
  ).toMatchObject({
    problems: [{ code: 'changed-meanwhile', where: { table: 'tag', column: 'germination' } }],
  })
  await must('tag.set', { lotId, items: { origin: 'Nowhere' }, was: { origin: null }, today })
  const lot = (await farm.lots()).find(({ id }) => id === lotId)!
  expect(lot).toMatchObject({ returnedPounds: 50, leftPounds: 7, tag: { germination: 0.9, origin: 'Nowhere' } })
})
