/** Rates of the lots that came, on the fields of a real plan; and the files they are written to, read back. */
import { DOMParser } from '@xmldom/xmldom'
import { ISOXMLManager } from 'isoxml'
import { describe, expect, test } from 'vitest'
import { countPerArea, taskData } from '../../src-main/engine/export/task-data.ts'
import { writeXml } from '../../src-main/engine/export/write-xml.ts'
import { pick } from '../shared/demo-farm.ts'
import { farmOf, freeSeason, today as ordering } from '../support/order-farm.ts'
import { entryOf, spring, springFarm } from '../support/spring-farm.ts'

const now = { today: spring }

test('without lots the rates are those planned; a weaker lot of smaller seed changes both, field by field', async () => {
  const { must, receipts, receive, tag, plan } = await springFarm()
  const before = await must('rates.list', now)
  expect(before.blocks.map(({ field }) => field).sort()).toEqual(plan.plan!.blocks.map(({ field }) => field).sort())
  for (const block of before.blocks) {
    const own = pick(plan.plan!.blocks, ({ field, variety }) => field === block.field && variety === block.variety)
    expect(block).toMatchObject({ lots: [], plannedPoundsPerAcre: own.poundsPerAcre, set: { from: 'plan' } })
    expect(block.set.poundsPerAcre).toBe(own.poundsPerAcre)
  }
  const line = pick(await receipts(), ({ packs }) => packs > 0)
  const { lotId } = await receive(line)
  const [planned] = (await must('rates.list', now)).blocks.filter(({ variety }) => variety === line.variety)
  // As the variety was expected to be: nothing moves.
  expect(planned!.lots[0]!.poundsPerAcre).toBeCloseTo(planned!.plannedPoundsPerAcre, 6)
  const { promised } = pick(
    (await must('delivery.list', {})).dealers.flatMap(({ deliveries }) => deliveries.flatMap((each) => each.lots)),
  )
  await tag(lotId, { germination: promised.germination - 0.1, seedsPerPound: promised.seedsPerPound * 1.1 })
  const after = await must('rates.list', now)
  for (const block of after.blocks.filter(({ variety }) => variety === line.variety)) {
    const drop = block.lots[0]!.seedsPerFoot / block.plannedSeedsPerFoot
    expect(drop).toBeCloseTo(promised.germination / (promised.germination - 0.1), 9)
    expect(block.lots[0]!.poundsPerAcre / block.plannedPoundsPerAcre).toBeCloseTo(drop / 1.1, 9)
    expect(block.lots[0]!.stand).toBeCloseTo(block.stand, 9)
    expect(block.lots[0]!.packs).toBe(Math.ceil((block.lots[0]!.poundsPerAcre * block.acres) / line.packPounds - 1e-6))
    expect(block.set.from).toBe('lots on hand')
    expect(block.set.seedsPerFoot).toBeCloseTo(block.lots[0]!.seedsPerFoot, 9)
  }
  const supply = pick(after.varieties, ({ variety }) => variety === line.variety)
  expect(supply.shortAcres > 0).toBe(supply.realPounds > supply.onHandPounds + 0.5)
  expect(supply.remedies.length).toBeGreaterThan(0)
})

test('before any order nothing is short; a line to send is not called on order', async () => {
  const { must } = await farmOf(freeSeason())
  await must('plan.solve', { today: ordering })
  const winter = await must('rates.list', { today: ordering })
  expect(winter.isBeforeOrders).toBe(true)
  expect(new Set(winter.varieties.flatMap(({ remedies }) => remedies.map(({ kind }) => kind)))).toEqual(
    new Set(['send orders']),
  )
  await must('orders.make', { today: ordering })
  const made = await must('rates.list', { today: ordering })
  expect(made.isBeforeOrders).toBe(false)
  for (const { owedPounds, unsentPounds, remedies } of made.varieties) {
    expect(owedPounds).toBe(0)
    expect(unsentPounds).toBeGreaterThan(0)
    expect(remedies.map(({ says }) => says).join()).not.toContain('on order already')
  }
})

test('seed that a dealer refused or will not bring is not offered again', async () => {
  const { must, receipts } = await springFarm()
  const [first, second] = (await receipts()).filter(({ packs }) => packs > 0)
  await must('delivery.promise', {
    lineId: first!.lineId,
    promise: { says: 'not coming', expectedOn: null, note: null },
  })
  await must('orders.mark', { lines: [second!.lineId], mark: { state: 'refused', on: spring }, says: 'Refuse' })
  const { varieties } = await must('rates.list', now)
  const offers = varieties.flatMap(({ remedies }) => remedies.filter(({ kind }) => kind === 'order'))
  for (const { quote } of [first!, second!]) {
    expect(
      offers.filter(({ says }) => says.includes(quote)),
      quote,
    ).toEqual([])
  }
})

test('two lots: weighed by their pounds; what is planted is needed no more; a lot that went back is not on hand', async () => {
  const { must, receipts, receive } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs > 3)
  const first = await receive(line, { packs: 1, pounds: line.packPounds * 3, lotNumber: 'A', seedsPerPound: 600 })
  await receive(line, { packs: 1, pounds: line.packPounds, lotNumber: 'B', seedsPerPound: 800 })
  await receive(line, { packs: 1, pounds: line.packPounds, lotNumber: 'C', state: 'returned' })
  const block = async () => pick((await must('rates.list', now)).blocks, ({ variety }) => variety === line.variety)
  const { lots, set, field, acres } = await block()
  expect(lots.map(({ lot }) => lot)).toEqual(['A', 'B'])
  expect(set.poundsPerAcre).toBeCloseTo((3 * lots[0]!.poundsPerAcre + lots[1]!.poundsPerAcre) / 4, 9)
  const { fields } = await must('planting.list', {})
  const fieldId = pick(fields, ({ name }) => name === field).id
  await must('planting.save', {
    planting: entryOf({ fieldId, acres: 5, lots: [{ lotId: first.lotId, packs: null, pounds: 50 }] }),
    today: spring,
  })
  const after = await block()
  expect(after).toMatchObject({ plantedAcres: 5, acres })
  expect(after.lots[0]!.pounds).toBeCloseTo(after.lots[0]!.poundsPerAcre * (acres - 5), 6)
})

test('a draft with the seed that came knows the lots’ germination and what will not come, and can be taken back', async () => {
  const { must, call, receipts, receive, tag, dump } = await springFarm()
  expect(await call('rates.replan', {})).toMatchObject({ ok: false, problems: [{ code: 'missing' }] })
  const line = pick(await receipts(), ({ packs }) => packs > 2)
  const { lotId } = await receive(line, { packs: 2, pounds: 2 * line.packPounds })
  await tag(lotId, { germination: 0.8 })
  await must('delivery.promise', { lineId: line.lineId, promise: { says: 'not coming', expectedOn: null, note: null } })
  const before = dump()
  const id = await must('rates.replan', {})
  expect(await must('rates.replan', {})).toBe(id)
  const draft = pick(await must('draft.list', {}), (each) => each.id === id)
  expect(draft.settings.whatIfs).toEqual([
    { kind: 'germination', variety: line.variety, germination: 0.8 },
    { kind: 'packs', quote: line.quote, availablePacks: 2 },
  ])
  await must('undo.back', {})
  expect(dump()).toEqual(before)
})

test('a plan made again in spring leaves what is planted where it is', async () => {
  const { must, receipts, receive } = await springFarm()
  const { blocks } = await must('rates.list', now)
  const block = pick(blocks, ({ field }) => blocks.filter((each) => each.field === field).length === 1)
  // Another variety than the plan had there went into the ground.
  const line = pick(await receipts(), ({ variety }) => variety !== block.variety)
  const { lotId } = await receive(line)
  const lots = [{ lotId, packs: 2, pounds: 2 * line.packPounds }]
  const planting = entryOf({ fieldId: block.fieldId, acres: block.acres, lots })
  await must('planting.save', { planting, today: spring })
  const id = await must('rates.replan', {})
  const draft = pick(await must('draft.list', {}), (each) => each.id === id)
  const lock = { kind: 'lock', field: block.field, variety: line.variety }
  expect(draft.settings.whatIfs).toContainEqual(lock)
  // Asked for again, it is said once.
  await must('rates.replan', {})
  const again = pick(await must('draft.list', {}), (each) => each.id === id)
  expect(again.settings.whatIfs.filter(({ kind }) => kind === 'lock')).toEqual([lock])
  await must('draft.solve', { id, gap: 0, seconds: 20 })
  await must('draft.adopt', { id })
  const { plan } = (await must('plan.latest', {}))!
  const there = plan!.blocks.filter(({ field }) => field === block.field)
  expect(there.map(({ variety }) => variety)).toEqual([line.variety])
})

test('without a plan there are no rates and no files, said so', async () => {
  const { call, must } = farmOf()
  expect(await must('rates.list', now)).toEqual({ planMadeAt: null, isBeforeOrders: true, blocks: [], varieties: [] })
  expect(await call('rates.file', { as: 'csv', today: spring })).toMatchObject({ problems: [{ code: 'missing' }] })
})

describe('files of planned seed', () => {
  const textOf = (base64: string) => Buffer.from(base64, 'base64').toString('utf8')

  test('CSV and GeoJSON hold every block with its rate and lots', async () => {
    const { must, receipts, receive } = await springFarm()
    await receive(
      pick(await receipts(), ({ packs }) => packs > 0),
      { lotNumber: '007' },
    )
    const { blocks } = await must('rates.list', now)
    const csv = textOf((await must('rates.file', { as: 'csv', today: spring })).base64)
    expect(csv.trim().split('\r\n')).toHaveLength(blocks.length + 1)
    expect(csv).toContain('Seeds per acre')
    expect(csv).toContain('007')
    const map = JSON.parse(textOf((await must('rates.file', { as: 'geojson', today: spring })).base64)) as {
      type: string
      features: { type: string; geometry: { type: string } | null; properties: Record<string, unknown> }[]
    }
    expect(map.type).toBe('FeatureCollection')
    expect(map.features).toHaveLength(blocks.length)
    for (const [at, feature] of map.features.entries()) {
      expect(feature.properties).toMatchObject({
        field: blocks[at]!.field,
        seedsPerAcre: Math.round(blocks[at]!.set.seedsPerAcre),
      })
      expect(feature.geometry?.type ?? null).toBe(blocks[at]!.field === 'Creek Bottom' ? 'Polygon' : null)
    }
  })

  test('T8a: 87,120 seeds an acre are 21528', () => {
    expect(countPerArea(87_120)).toBe(21_528)
    expect(countPerArea(0)).toBe(0)
  })

  test('task data are read back by an independent library: fields, variety, task, zone and setpoint', async () => {
    const { must } = await springFarm()
    const { blocks } = await must('rates.list', now)
    const file = await must('rates.file', { as: 'task data', today: spring })
    expect(file.name).toBe('TASKDATA.XML')
    const manager = new ISOXMLManager()
    await manager.parseISOXMLFile(textOf(file.base64), 'text/xml')
    expect(manager.getWarnings()).toEqual([])
    const root = manager.rootElement
    expect(root.attributes).toMatchObject({ VersionMajor: '4', ManagementSoftwareManufacturer: 'Standwell' })
    const tasks = root.attributes.Task ?? []
    expect(tasks).toHaveLength(blocks.length)
    for (const [at, task] of tasks.entries()) {
      const { TaskStatus, TreatmentZone, PartfieldIdRef, DefaultTreatmentZoneCode } = task.attributes
      const block = blocks[at]!
      expect(TaskStatus).toBe('1')
      expect(DefaultTreatmentZoneCode).toBe(1)
      expect(PartfieldIdRef?.entity?.attributes).toMatchObject({ PartfieldDesignator: block.field })
      const [value] = TreatmentZone?.[0]?.attributes.ProcessDataVariable ?? []
      expect(value?.attributes.ProcessDataDDI).toBe('000B')
      expect(value?.attributes.ProcessDataValue).toBe(countPerArea(block.set.seedsPerAcre))
      expect(value?.attributes.ProductIdRef?.entity?.attributes).toMatchObject({
        ProductDesignator: `${block.variety} seed`,
      })
    }
    const bottom = root.attributes.Partfield?.find(
      ({ attributes }) => attributes.PartfieldDesignator === 'Creek Bottom',
    )
    expect(bottom?.attributes.PartfieldArea).toBe(Math.round(88 * 4046.8564224))
    const [ring] = bottom?.attributes.PolygonnonTreatmentZoneonly?.[0]?.attributes.LineString ?? []
    expect(ring?.attributes.Point).toHaveLength(4)
    expect(ring?.attributes.Point?.[1]?.attributes).toMatchObject({ PointNorth: 31.1, PointEast: -83.09 })
  })

  test('no lot number is in it, names are escaped and cut to what a designator takes', async () => {
    const { must, receipts, receive } = await springFarm()
    await receive(
      pick(await receipts(), ({ packs }) => packs > 0),
      { lotNumber: 'LOT-8841' },
    )
    const { blocks } = await must('rates.list', now)
    const name = `A<b>&"c" ${'x'.repeat(60)}`
    const field = blocks[0]!.field
    const xml = taskData({
      farm: name,
      season: 2027,
      blocks,
      fields: blocks.map((block) => ({ name: block.field, acres: block.acres })),
    })
    expect(xml).not.toContain('LOT-8841')
    const parsed = new DOMParser().parseFromString(xml, 'text/xml')
    expect(parsed.getElementsByTagName('CTR')[0]?.getAttribute('B')).toBe(name.slice(0, 32))
    expect([...parsed.getElementsByTagName('PFD')].map((each) => each.getAttribute('C'))).toContain(field)
    expect(writeXml({ name: 'A', attributes: { B: 'x\u0000\u0001y\n', C: undefined } })).toBe(
      '<?xml version="1.0" encoding="UTF-8"?>\n<A B="xy&#10;"/>\n',
    )
  })
})
