/** A season as it may have gone, written into a farm file as rows: what the window would have written over a year. */
import { insertRow } from '../../src-main/engine/db/insert.ts'
import type { OpenFarm } from '../../src-main/engine/farm-file.ts'
import { savePlan } from '../../src-main/engine/plans.ts'
import type { ReviewInput } from '../../src-shared/review/review-input.ts'

export async function fill({ db, connection, seasonId }: OpenFarm, record: ReviewInput): Promise<void> {
  const ids = (table: 'variety' | 'dealer' | 'measure') =>
    new Map(
      (
        connection.prepare(`SELECT name, id FROM ${table} WHERE seasonId = ?`).all(seasonId) as {
          name: string
          id: number
        }[]
      ).map(({ name, id }) => [name, id]),
    )
  const [varieties, dealers, measures] = [ids('variety'), ids('dealer'), ids('measure')]
  const grounds = new Map(
    (
      connection
        .prepare('SELECT field.name, field_season.id FROM field_season JOIN field ON field.id = field_season.fieldId')
        .all() as { name: string; id: number }[]
    ).map(({ name, id }) => [name, id]),
  )
  if (record.planned !== null) {
    const proof = { status: 'proven', says: '', endedBy: 'proof', costCents: 0, boundCents: 0, gap: 0, wantedGap: 0 }
    const rest = { stages: [], seconds: 0, solver: '', dataHash: '' }
    const { plan, from } = record.planned
    await savePlan(db, seasonId, from, { plan, proof: { ...proof, ...rest } as never })
  }
  connection.exec('BEGIN')
  const deliveries = new Map(
    [...dealers].map(([name, dealerId]) => {
      return [name, insertRow(connection, 'delivery', { seasonId, dealerId, arrivedOn: '2027-04-10' })]
    }),
  )
  for (const order of record.orders) {
    const purchaseOrderId = insertRow(connection, 'purchase_order', {
      ...{ seasonId, dealerId: dealers.get(order.dealer)!, madeOn: order.madeOn, terms: JSON.stringify(order.terms) },
    })
    for (const { id, quote, variety, packs, packPounds, packPriceCents, terms, state } of order.lines) {
      insertRow(connection, 'order_line', {
        ...{ id, purchaseOrderId, varietyId: varieties.get(variety)!, quote, packs, packPounds, packPriceCents, state },
        ...{ terms: JSON.stringify(terms), sentOn: '2027-01-20', answeredOn: '2027-01-25', confirmedPacks: packs },
        confirmedPriceCents: packPriceCents,
      })
    }
  }
  for (const lot of record.lots) {
    insertRow(connection, 'lot', {
      ...{ id: lot.id, seasonId, lotNumber: lot.name, varietyId: varieties.get(lot.variety)!, state: lot.state },
      ...{ dealerId: lot.dealer === null ? null : dealers.get(lot.dealer), orderLineId: lot.orderLineId },
      ...{ deliveryId: lot.dealer === null ? null : deliveries.get(lot.dealer), pounds: lot.pounds, packs: lot.packs },
      returnedPounds: lot.returnedPounds,
    })
  }
  for (const {
    id,
    field,
    isFinished,
    plantedOn,
    acres,
    seedsPerFoot,
    lots,
    measures: used,
    counts,
  } of record.plantings) {
    const whole = isFinished && plantedOn !== null
    const row = { id, fieldSeasonId: grounds.get(field)!, isFinished: Number(whole), plantedOn, acres, seedsPerFoot }
    insertRow(connection, 'planting', row)
    for (const lot of lots) insertRow(connection, 'planting_lot', { plantingId: id, ...lot })
    for (const name of used)
      insertRow(connection, 'planting_measure', { plantingId: id, measureId: measures.get(name)! })
    for (const { countedOn, spots } of counts) {
      const standCountId = insertRow(connection, 'stand_count', { plantingId: id, countedOn })
      spots.forEach((spot, at) => insertRow(connection, 'stand_spot', { standCountId, ordinal: at + 1, ...spot }))
    }
  }
  for (const { field, grown, ticket, hauledOn, grossPounds, valueCents } of record.loads) {
    const varietyId = grown === null ? null : varieties.get(grown)
    const weight = { grossPounds, tarePounds: 0, foreignMaterial: 0.03, looseKernels: 0.02, moisture: 0.09 }
    const place = { seasonId, fieldSeasonId: grounds.get(field)!, varietyId, ticket, hauledOn }
    insertRow(connection, 'load', { ...place, ...weight, paidCents: valueCents })
  }
  for (const { kind, says, field, dealer, cents, perAcre } of record.costs) {
    const fieldSeasonId = field === undefined ? null : grounds.get(field)
    const dealerId = dealer === undefined ? null : dealers.get(dealer)
    insertRow(connection, 'cost_entry', {
      seasonId,
      kind,
      says,
      fieldSeasonId,
      dealerId,
      cents,
      perAcre: Number(perAcre),
    })
  }
  connection.exec('COMMIT')
}
