/** Trace, both ways: which lot went into which ground, and which ground had which lot. */
import { balanceOf } from '../../src-shared/lot.ts'
import type { TraceLot, TraceNow, TracePlanting } from '../../src-shared/trace.ts'
import type { OpenFarm } from './farm-file.ts'
import { readFarm } from './farms.ts'
import { listFields } from './fields.ts'
import { readLots } from './lots.ts'
import { readPlantings } from './plantings.ts'

export async function traceNow({ db, seasonId }: Pick<OpenFarm, 'db' | 'seasonId'>): Promise<TraceNow> {
  const { farm, season } = await readFarm(db, seasonId)
  const lots = await readLots(db, seasonId)
  const entries = await readPlantings(db, seasonId)
  const nameOf = new Map(lots.map((lot) => [lot.id, lot]))
  const byDay = entries.toSorted((a, b) => (a.plantedOn ?? '9').localeCompare(b.plantedOn ?? '9') || a.id - b.id)
  const plantings = byDay.flatMap((entry) =>
    entry.lots.flatMap((planted): TracePlanting[] => {
      const lot = nameOf.get(planted.lotId)
      if (lot === undefined) return []
      const others = entry.lots.filter(({ lotId }) => lotId !== planted.lotId)
      return [
        {
          plantingId: entry.id,
          lotId: lot.id,
          lot: lot.name,
          variety: lot.variety,
          dealer: lot.dealer,
          fieldId: entry.fieldId,
          field: entry.field,
          block: entry.block,
          plantedOn: entry.plantedOn,
          isFinished: entry.isFinished,
          acres: entry.acres,
          pounds: planted.pounds,
          packs: planted.packs,
          mixedWith: others.map(({ lotId }) => nameOf.get(lotId)?.name ?? String(lotId)),
          operator: entry.operator,
        },
      ]
    }),
  )
  return {
    farm: farm.name,
    season,
    lots: lots.map((lot): TraceLot => {
      const { came, planted, returned, left, counted, off, closes } = balanceOf(lot)
      return {
        id: lot.id,
        name: lot.name,
        lotNumber: lot.lotNumber,
        variety: lot.variety,
        dealer: lot.dealer,
        shipper: lot.tag?.shipper ?? null,
        arrivedOn: lot.arrivedOn,
        state: lot.state,
        treatment: lot.tag?.treatment ?? null,
        isTreated: lot.isTreated,
        came,
        planted,
        returned,
        left,
        counted,
        off,
        closes,
        plantings: plantings.filter(({ lotId }) => lotId === lot.id),
      }
    }),
    fields: (await listFields(db, seasonId)).map(({ id, name, acres }) => ({
      id,
      name,
      acres,
      plantings: plantings.filter(({ fieldId }) => fieldId === id),
    })),
  }
}
