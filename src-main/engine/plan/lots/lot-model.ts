/**
 * Lots on fields as a mixed-integer model, one variety at a time since no lot crosses from one to another. Columns:
 * w[field, lot] share of the field; u[field, lot] yes/no; v[lot, window] yes/no, the hoppers emptied for it; short[field]
 * share without seed. A lot too small for a field can give it only part: w ≤ (pounds / need) × u, which is what makes the
 * bound close.
 */
import type { FieldToSow, LotProblem, LotToPlace } from '../../../../src-shared/lot-placing.ts'
import { LinearModel, type Term } from '../linear-model.ts'

export interface PairColumn {
  field: number
  lot: number
  /** The field and the lot that these are. */
  sown: FieldToSow
  from: LotToPlace
  share: number
  used: number
  /** [lb] that the whole field would take of the lot. */
  need: number
}

export interface LotBuild {
  problem: LotProblem
  model: LinearModel
  pairs: PairColumn[]
  /** By field. */
  short: number[]
  /** By lot and window. */
  cleanOuts: Map<string, number>
}

export function buildLots(problem: LotProblem): LotBuild {
  const { lots, fields, costs } = problem
  const model = new LinearModel()
  const short = fields.map((field) => model.column(costs.short * field.acres, 0, 1))
  const cleanOuts = new Map<string, number>()
  const pairs = pairsOf(problem, model)
  for (const { lot, sown, used } of pairs) {
    const key = cleanOutKey(lot, sown.window)
    let column = cleanOuts.get(key)
    if (column === undefined) cleanOuts.set(key, (column = model.choice(costs.cleanOut)))
    model.row(-Infinity, 0, [
      [used, 1],
      [column, -1],
    ])
  }
  addWindows(model, pairs, cleanOuts)
  fields.forEach((_, f) => {
    const own = pairs.filter(({ field }) => field === f)
    model.row(1, 1, [...own.map(({ share }): Term => [share, 1]), [short[f] as number, 1]])
    addCover(model, f, own, short[f] as number)
  })
  lots.forEach((lot, l) => {
    const own = pairs.filter((pair) => pair.lot === l)
    addLot(problem, model, lot, own)
  })
  return { problem, model, pairs, short, cleanOuts }
}

export function cleanOutKey(lot: number, window: string): string {
  return `${lot}/${window}`
}

/** Share and yes/no of each lot that may go on each field. */
function pairsOf({ lots, fields, locks, costs }: LotProblem, model: LinearModel): PairColumn[] {
  return fields.flatMap((field, f) => {
    const locked = locks.filter((lock) => lock.field === field.id).map(({ lot }) => lot)
    return lots.flatMap((lot, l): PairColumn[] => {
      const rate = field.poundsPerAcre[l] ?? null
      if (rate === null || lot.pounds <= 0) return []
      if (locked.length > 0 && !locked.includes(lot.id)) return []
      const need = rate * field.acres
      const most = Math.min(1, lot.pounds / need)
      const share = model.column(field.isCold && lot.isWeak ? costs.weakOnCold * field.acres : 0, 0, most)
      const used = model.choice(costs.lotAtField)
      model.row(-Infinity, 0, [
        [share, 1],
        [used, -most],
      ])
      return [{ field: f, lot: l, sown: field, from: lot, share, used, need }]
    })
  })
}

/** In a window a lot gives no more than it has, and nothing unless the hoppers were emptied for it. */
function addWindows(model: LinearModel, pairs: readonly PairColumn[], cleanOuts: ReadonlyMap<string, number>): void {
  const byKey = Map.groupBy(pairs, ({ lot, sown }) => cleanOutKey(lot, sown.window))
  for (const [key, own] of byKey) {
    const most = Math.min(
      ...own.map(({ from }) => from.pounds),
      own.reduce((sum, { need }) => sum + need, 0),
    )
    model.row(-Infinity, 0, [
      ...own.map(({ share, need }): Term => [share, need]),
      [cleanOuts.get(key) as number, -most],
    ])
  }
}

/** Where no one lot is enough for a field, at least so many are needed as the largest ones would be. */
function addCover(model: LinearModel, field: number, own: readonly PairColumn[], short: number): void {
  const reach = own.map(({ from, need }) => Math.min(1, from.pounds / need)).sort((a, b) => b - a)
  let count = 0
  for (let sum = 0; sum < 1 - 1e-9 && count < reach.length; count += 1) sum += reach[count] as number
  if (count < 1) return
  // Short of seed a field may have fewer.
  model.row(count, Infinity, [...own.map(({ used }): Term => [used, 1]), [short, count]], `cover/${field}`)
}

/** A lot gives no more than it has; what is left of a carried one counts. */
function addLot(
  { costs }: LotProblem,
  model: LinearModel,
  { pounds, isCarried }: LotToPlace,
  own: readonly PairColumn[],
): void {
  model.row(
    -Infinity,
    pounds,
    own.map(({ share, need }): Term => [share, need]),
  )
  if (!isCarried) return
  // Carried seed left = all there is, less what is used.
  model.column(costs.carriedLeft * pounds, 1, 1)
  for (const { share, need } of own) model.addCost(share, -costs.carriedLeft * need)
}
