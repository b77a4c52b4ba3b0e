/** Lots placed on the fields of the plan in hand: pounds and acres, what is kept, what has changed since, taken back. */
import { expect, test } from 'vitest'
import type { VarietyPlacing } from '../../src-shared/lot-placing.ts'
import { springFarm, spring as today } from '../support/spring-farm.ts'

async function farmWithLots() {
  const farm = await springFarm()
  for (const line of await farm.receipts()) {
    // Each line comes in two lots, one of them weak.
    const half = Math.floor(line.packs / 2)
    const one = await farm.receive(line, {
      lotNumber: `${line.variety}-1`,
      packs: half,
      pounds: half * line.packPounds,
    })
    const rest = line.packs - half
    const other = { lotNumber: `${line.variety}-2`, packs: rest, pounds: rest * line.packPounds }
    const two = await farm.receive(line, other)
    await farm.tag(one.lotId, { lotNumber: `${line.variety}-1`, germination: 0.9 })
    await farm.tag(two.lotId, { lotNumber: `${line.variety}-2`, germination: 0.78 })
  }
  return farm
}

const rowsIn = (placings: VarietyPlacing[]) => placings.flatMap(({ rows }) => rows)

test('places what came on every acre there is seed for, and says why', async () => {
  const { must, call, bugs } = await farmWithLots()
  expect((await must('placing.list', { today })).every(({ found, rows }) => found === null && rows.length === 0)).toBe(
    true,
  )
  const placings = await must('placing.solve', { today })
  expect(await must('placing.list', { today })).toEqual(placings)
  expect(placings.length).toBeGreaterThan(0)
  const { blocks } = await must('rates.list', { today })
  for (const { variety, rows, found, isStale } of placings) {
    expect(isStale).toBe(false)
    expect(found!.gap).toBeLessThanOrEqual(0.02)
    const wanted = blocks.filter((block) => block.variety === variety).reduce((sum, { acres }) => sum + acres, 0)
    const short = found!.short.reduce((sum, { acres }) => sum + acres, 0)
    expect(rows.reduce((sum, { acres }) => sum + acres, 0) + short).toBeCloseTo(wanted, 3)
    expect(found!.why.every(({ says }) => says.length > 0)).toBe(true)
    for (const { lotId, lot, field, acres, pounds } of rows) {
      const rate = blocks
        .find((block) => block.field === field && block.variety === variety)
        ?.lots.find((each) => each.lotId === lotId)?.poundsPerAcre
      expect(pounds, `${lot} on ${field}`).toBeCloseTo(acres * rate!, 3)
    }
  }
  // The rates of a field, and what is loaded for it, are then of the lots placed there.
  const after = (await must('rates.list', { today })).blocks
  const [row] = rowsIn(placings)
  const block = after.find((each) => each.field === row!.field && each.variety === row!.variety)!
  const here = block.lots.filter((lot) => lot.placed !== null)
  expect(block.set).toMatchObject({ from: 'placed lots', lots: here.map(({ lot }) => lot) })
  const acres = here.reduce((sum, lot) => sum + lot.placed!.acres, 0)
  const mean = here.reduce((sum, lot) => sum + lot.poundsPerAcre * lot.placed!.acres, 0) / acres
  expect(block.set.poundsPerAcre).toBeCloseTo(mean, 6)
  const fieldId = row!.fieldId
  expect(await call('placing.keep', { lotId: 999, fieldId, isKept: true })).toMatchObject({
    problems: [{ code: 'missing' }],
  })
  expect(bugs).toEqual([])
})

test('a lot that is kept on a field stays there, until it is let go or taken back', async () => {
  const { must, lots } = await farmWithLots()
  const first = rowsIn(await must('placing.solve', { today }))
  const row = first.find((each) => !first.some((other) => other.field === each.field && other.lotId !== each.lotId))!
  const other = (await lots()).find((lot) => lot.variety === row.variety && lot.id !== row.lotId)!
  await must('placing.keep', { lotId: other.id, fieldId: row.fieldId, isKept: true })
  expect((await must('placing.list', { today })).find(({ variety }) => variety === row.variety)?.isStale).toBe(true)
  const kept = rowsIn(await must('placing.solve', { today })).filter(({ fieldId }) => fieldId === row.fieldId)
  expect(kept.map(({ lotId, isKept }) => [lotId, isKept])).toEqual([[other.id, true]])
  await must('placing.keep', { lotId: other.id, fieldId: row.fieldId, isKept: false })
  const free = rowsIn(await must('placing.solve', { today })).filter(({ fieldId }) => fieldId === row.fieldId)
  expect(free.map(({ lotId }) => lotId)).toEqual([row.lotId])
})

test('without lots, that is said', async () => {
  const { call } = await springFarm()
  expect(await call('placing.solve', { today })).toMatchObject({
    problems: [{ what: 'There is no variety that has both lots on the farm and ground to plant.' }],
  })
})

test('a lot that changes makes its placing out of date', async () => {
  const { must, tag, lots } = await farmWithLots()
  await must('placing.solve', { today })
  const [lot] = await lots()
  await tag(lot!.id, { lotNumber: lot!.lotNumber, germination: 0.84 })
  const after = await must('placing.list', { today })
  expect(after.filter(({ isStale }) => isStale).map(({ variety }) => variety)).toEqual([lot!.variety])
})

test('a renamed field and a renamed variety leave the placing as it is', async () => {
  const { must } = await farmWithLots()
  const before = await must('placing.solve', { today })
  const { fieldId, field } = rowsIn(before)[0]!
  const variety = (await must('variety.list', {})).find(({ name }) => name === before[0]!.variety)!
  for (const [sheet, id, value] of [
    ['field', fieldId, 'Zz renamed'],
    ['variety', variety.id, 'Zz renamed variety'],
  ] as const) {
    await must('sheet.change', { sheet, says: 'Rename', cells: [{ id, path: 'name', value }] })
  }
  const after = await must('placing.list', { today })
  expect(after.map(({ isStale }) => isStale)).toEqual(before.map(() => false))
  const named = (placings: VarietyPlacing[]) => new Set(rowsIn(placings).map((row) => row.field))
  expect(named(before)).toContain(field)
  expect(named(after)).toContain('Zz renamed')
  expect(named(after)).not.toContain(field)
  expect(after.map((each) => each.variety)).toContain('Zz renamed variety')
})
