/** What waits in spring, for the rail. */
import type { SpringWaiting } from '../../src-shared/delivery.ts'
import { missingPounds } from '../../src-shared/rates.ts'
import type { OpenFarm } from './farm-file.ts'
import { plantingsNow } from './planting-record.ts'
import { lotsNow, receiptsNow } from './receiving.ts'
import { ratesNow } from './spring-rates.ts'

/** In a farm without orders and lots nothing waits: winter is not slowed by spring. */
export async function springWaiting(farm: OpenFarm, today: string): Promise<SpringWaiting> {
  const lots = await lotsNow(farm)
  const lines = (await receiptsNow(farm, lots)).flatMap(({ receipts }) => receipts).filter(({ packs }) => packs > 0)
  const here = lots.filter(({ state }) => state === 'received')
  const base = {
    owedLines: lines.filter(({ owedPounds }) => owedPounds > 0).length,
    lines: lines.length,
    lots: here.length,
    untagged: here.filter(({ tag }) => tag === null).length,
    failing: here.filter(({ checks }) => checks.some(({ verdict }) => verdict === 'fails')).length,
  }
  if (lots.length === 0) {
    return { ...base, short: 0, plantings: 0, unfinished: 0, plantedAcres: 0, plannedAcres: 0, lowStands: 0 }
  }
  const rates = await ratesNow(farm, today)
  const { plantings, fields } = await plantingsNow(farm)
  return {
    ...base,
    // What is on its way is not missing.
    short: rates.varieties.filter((supply) => missingPounds(supply) > 0).length,
    plantings: plantings.length,
    unfinished: plantings.filter(({ isFinished }) => !isFinished).length,
    plantedAcres: fields.reduce((sum, field) => sum + field.plantedAcres, 0),
    plannedAcres: rates.blocks.reduce((sum, block) => sum + block.acres, 0),
    lowStands: plantings.filter(({ counts }) => counts.at(-1)?.verdict === 'low').length,
  }
}
