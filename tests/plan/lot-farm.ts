/** Lots and fields of one variety made from a seed: rates from germination and count, seed a little more than enough. */
import type { LotProblem } from '../../src-shared/lot-placing.ts'
import { randomFrom } from './random.ts'

const windows = ['Early', 'Usual', 'Late']
/** Plants a foot wanted, feet of row an acre in 36-inch rows, and the share of sprouts that come up. */
const plantsPerFoot = 4
const feetPerAcre = 14_520
const comesUp = 0.85

export function lotFarm(seed: number, fieldCount: number, lotCount: number, plenty = 1.06): LotProblem {
  const random = randomFrom(seed)
  const fields = Array.from({ length: fieldCount }, (_, f) => {
    const window = random.pick(windows)
    return { id: `F${f}`, acres: 20 + Math.round(random.next() * 130), window, isCold: window === 'Early' }
  })
  const lots = Array.from({ length: lotCount }, (_, l) => ({
    id: `L${l}`,
    germination: 0.72 + random.next() * 0.22,
    seedsPerPound: 600 + random.next() * 100,
    isCarried: random.chance(0.1),
    size: 0.3 + random.next() * 1.7,
  }))
  const rates = lots.map((lot) => (plantsPerFoot * feetPerAcre) / (lot.germination * comesUp) / lot.seedsPerPound)
  const need = fields.reduce((sum, field) => sum + field.acres * Math.max(...rates), 0) * plenty
  const size = lots.reduce((sum, lot) => sum + lot.size, 0)
  return {
    variety: 'Amber',
    lots: lots.map((lot) => ({
      id: lot.id,
      pounds: Math.round((need * lot.size) / size / 50) * 50,
      isWeak: lot.germination < 0.8,
      isCarried: lot.isCarried,
    })),
    fields: fields.map((field) => ({ ...field, poundsPerAcre: rates })),
    locks: [],
    costs: { lotAtField: 1500, cleanOut: 2500, weakOnCold: 800, carriedLeft: 40, short: 1_000_000 },
  }
}
