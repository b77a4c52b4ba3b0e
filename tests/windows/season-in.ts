/** A season put into an open farm through the engine's calls: planned, ordered, received, planted, counted, harvested, billed. */
import type { CallName, GivenInput, Output, Reply } from '../../src-shared/api.ts'
import { emptyTag } from '../../src-shared/tag.ts'
import { randomFrom } from '../plan/random.ts'

export type Must = <Name extends CallName>(name: Name, input: GivenInput<Name>) => Promise<Output<Name>>

/** Calls the host as its page does, from the test's own process. */
export function callsOf({ origin, cookie }: { origin: string; cookie: string }): Must {
  return async (name, input) => {
    const response = await fetch(`${origin}/call/${name}`, {
      method: 'POST',
      headers: { cookie, 'content-type': 'application/json' },
      body: JSON.stringify(input),
    })
    const reply = (await response.json()) as Reply<typeof name>
    if (!reply.ok) throw new Error(`${name}: ${JSON.stringify(reply.problems)}`)
    return reply.value as Output<typeof name>
  }
}

/** What the plan says is ordered, and confirmed. */
export async function orderPlan(must: Must): Promise<void> {
  await must('orders.make', { today: '2027-01-20' })
  const lines = (await must('orders.list', {})).orders.flatMap((order) => order.lines.map(({ id }) => id))
  await must('orders.mark', { lines, mark: { state: 'confirmed', on: '2027-01-25' }, says: 'Confirm' })
}

/** All that was ordered comes, a lot a line, and is planted where the plan has it. */
export async function receiveAndPlant(must: Must): Promise<void> {
  const random = randomFrom(7)
  for (const dealer of (await must('delivery.list', {})).dealers) {
    const delivery = { dealerId: dealer.dealerId, arrivedOn: '2027-04-10', ticket: null, scalePounds: null, note: null }
    const deliveryId = await must('delivery.save', { delivery, today: '2027-04-12' })
    for (const line of dealer.lines.filter(({ packs }) => packs > 0)) {
      const lotNumber = `${line.variety.slice(0, 2).toUpperCase()}-${line.lineId}`
      const lotId = await must('lot.save', {
        lot: {
          ...{ lotNumber, varietyId: line.varietyId, deliveryId, carriedSeedId: null, orderLineId: line.lineId },
          ...{ state: 'received', packs: line.packs, packPounds: line.packPounds, pounds: line.pounds },
          ...{
            returnedPounds: random.chance(0.4) ? line.packPounds : 0,
            leftPounds: null,
            seedsPerPound: null,
            note: null,
          },
        },
      })
      const plain = emptyTag({ variety: line.variety, lotNumber, isTreated: true })
      const tag = { ...plain, germination: random.whole(74, 92) / 100, seedsPerPound: random.whole(570, 720) }
      await must('tag.save', { lotId, tag, today: '2027-04-12' })
    }
  }
  const { plan } = (await must('plan.latest', {}))!
  const { fields, lots, measures } = await must('planting.list', {})
  const left = new Map(lots.map(({ id, onHandPounds }) => [id, onHandPounds]))
  for (const block of plan!.blocks) {
    const field = fields.find(({ name }) => name === block.field)!
    let needed = Math.round(block.pounds * (0.97 + random.next() * 0.08))
    const own = lots
      .filter(({ variety }) => variety === block.variety)
      .flatMap(({ id }) => {
        const pounds = Math.min(needed, Math.floor(left.get(id) ?? 0))
        if (pounds <= 0) return []
        needed -= pounds
        left.set(id, (left.get(id) ?? 0) - pounds)
        return [{ lotId: id, packs: null, pounds }]
      })
    if (own.length === 0) continue
    const planting = {
      ...{ fieldId: field.id, block: null, isFinished: true, plantedOn: '2027-05-04', acres: block.acres },
      ...{ rowPattern: field.rowPattern, rowSpacingIn: field.rowSpacingIn, seedsPerFoot: 6, depthIn: 2 },
      ...{ soilTempF: 70, operator: null, lots: own, note: null },
      measureIds: measures.filter(({ name }) => block.programme.includes(name)).map(({ id }) => id),
    }
    const plantingId = await must('planting.save', { planting, today: '2027-05-10' })
    const spots = Array.from({ length: 5 }, () => ({ feet: 10, plants: random.whole(30, 46) }))
    await must('stand.save', { count: { plantingId, countedOn: '2027-05-28', spots, note: null }, today: '2027-06-01' })
  }
}

export async function harvestAndBill(must: Must): Promise<void> {
  const random = randomFrom(11)
  const { plan } = (await must('plan.latest', {}))!
  const fields = await must('field.list', {})
  const add = async (sheet: 'load' | 'cost' | 'seen', rows: Record<string, unknown>[]) => {
    const added = rows.map((values, at) => ({ key: at, values: values as never }))
    const { refused } = await must('sheet.change', { sheet, says: `Add to ${sheet}`, added })
    if (refused.length > 0) throw new Error(JSON.stringify(refused))
  }
  const loads = plan!.blocks.flatMap((block, at) => {
    const goal = fields.find(({ name }) => name === block.field)!.yieldGoalLb
    const pounds = block.acres * goal * (0.78 + random.next() * 0.2)
    const trucks = Math.max(1, Math.round(pounds / 22_000))
    return Array.from({ length: trucks }, (_, truck) => ({
      ...{ field: block.field, variety: block.variety, ticket: `${at + 1}-${truck + 1}`, hauledOn: '2027-09-25' },
      ...{ grossPounds: Math.round(pounds / trucks / 0.94) + 14_000, tarePounds: 14_000, foreignMaterial: 0.04 },
      ...{ looseKernels: 0.02, priceBasis: 'contract', centsPerTon: random.whole(49_500, 54_000) },
    }))
  })
  await add('load', loads)
  const dealer = (await must('orders.list', {})).orders[0]!.dealer
  await add('cost', [
    { kind: 'seed', says: 'Invoice 2207', dealer, cents: 6_512_300 },
    { kind: 'other', says: 'Land rent', cents: 9500, perAcre: true },
    { kind: 'other', says: 'Crop insurance', cents: 1_840_000 },
    { kind: 'digging', says: 'Hired digger', cents: 2100, perAcre: true },
  ])
  const [one, two, three] = plan!.blocks
  await add('seen', [
    { field: one!.field, threat: 'late leaf spot', level: 'moderate', loss: 0.06 },
    { field: two!.field, threat: 'late leaf spot', level: 'severe', loss: 0.14 },
    { field: two!.field, threat: 'southern stem rot', level: 'high', loss: 0.05 },
    { field: three!.field, threat: 'spotted wilt', level: 'none' },
    { field: one!.field, threat: 'spotted wilt', level: 'low', loss: 0.02 },
  ])
}
