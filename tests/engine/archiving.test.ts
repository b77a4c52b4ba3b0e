/** A season written out as one file with all that happened in it, and what of it is read back. */
import { expect, test } from 'vitest'
import { gather } from '../../src-main/engine/plan/gather.ts'
import type { SeasonRecord } from '../../src-shared/season-record.ts'
import { readSeason } from '../../src-shared/season.ts'
import { farmOf } from '../support/order-farm.ts'
import { plantedFarm } from '../support/spring-farm.ts'

test('a season as one file: `plan` reads it, a farm made of it has the same figures, what happened stands in it by name', async () => {
  const farm = await plantedFarm()
  const { must } = farm
  const values = { field: 'Hill', hauledOn: '2027-10-02', grossPounds: 30_000, tarePounds: 10_000, paidCents: 400_000 }
  await must('sheet.change', { sheet: 'load', says: 'Add', added: [{ key: -1, values }] })
  const costs = [{ key: -1, values: { kind: 'other', says: 'Rent', cents: 900_000 } }]
  await must('sheet.change', { sheet: 'cost', says: 'Add', added: costs })
  const jpeg = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(3000, 7)]).toString('base64')
  await farm.tag(farm.lotId, { germination: 0.9 })
  await must('tag.addPhoto', { lotId: farm.lotId, file: { name: 'tag.jpg', base64: jpeg } })
  const { name, base64 } = await must('season.archive', {})
  expect(name).toBe('Test Farm 2027.season.json')
  const text = Buffer.from(base64, 'base64').toString('utf8')
  // The picture itself is not in it, and it is said.
  expect(text).not.toContain(jpeg.slice(100, 200))
  const raw = JSON.parse(text) as { happened: SeasonRecord; plan: { plan: unknown } }
  expect(raw.happened).toMatchObject({
    leftOut: expect.stringContaining('Pictures'),
    lots: [{ lotNumber: farm.lot.lotNumber, tag: { germination: 0.9 }, pictures: ['tag.jpg'] }],
    plantings: [{ field: 'Hill', acres: 20, lots: [{ lot: farm.lot.lotNumber, pounds: farm.lot.pounds - 300 }] }],
    loads: [{ field: 'Hill', netPounds: 20_000, valueCents: 400_000 }],
    costs: [{ says: 'Rent', cents: 900_000 }],
  })
  expect(raw.happened.orders.length).toBeGreaterThan(0)
  expect([...text.matchAll(/"(\w*Id|id)":/g)].map((match) => match[1])).toEqual([])
  expect(raw.plan.plan).toEqual((await must('plan.latest', {}))?.plan)
  const read = readSeason(raw, name)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const copy = farmOf(read.value)
  const own = farm.engine.farm!
  const [before, after] = [await gather(own.db, own.seasonId), await gather(copy.engine.farm!.db, 1)]
  expect(after).toEqual(before)
})

test('rolling from what was rolled: the archive of a closed season is that season', async () => {
  const farm = await plantedFarm()
  const before = await farm.must('season.archive', {})
  const [old] = (await farm.must('farm.current', {}))!.seasons
  await farm.must('season.roll', { crops: [] })
  await farm.must('season.open', { id: old!.id })
  expect(await farm.must('season.archive', {})).toEqual(before)
})
