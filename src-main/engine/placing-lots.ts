/** Lots on the fields of the plan in hand: the problem from the real lots and their rates, solved, kept, told. */
import { placingCosts, type LotOnField, type LotProblem, type VarietyPlacing } from '../../src-shared/lot-placing.ts'
import type { Book } from '../../src-shared/assumption.ts'
import { onHandOf } from '../../src-shared/delivery.ts'
import { poundsOnHand, type LotRow } from '../../src-shared/lot.ts'
import { ProblemError, valueOf, type Problem } from '../../src-shared/problem.ts'
import type { RateBlock } from '../../src-shared/rates.ts'
import { inTransaction } from './db/transaction.ts'
import { farmOf, requireSameFarm, type Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'
import { readLotFields, readPlacings, writePlacing, type NewPlacing, type StoredRow } from './lot-fields.ts'
import { dataHash } from './plan/data-hash.ts'
import { placeLots } from './plan/lots/place-lots.ts'
import { besidePlan } from './reasoning.ts'
import { bookOf, lotsNow } from './receiving.ts'
import { ratesNow } from './spring-rates.ts'

/** [share] within which a placing is good enough, and [s] for each variety. */
const GAP = 0.02
const SECONDS = 5

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

/** Every variety that has lots and ground, with where its lots were placed. */
export async function placingsNow(farm: Place, today: string): Promise<VarietyPlacing[]> {
  const { asked, lots, rows } = await askedNow(farm, today)
  const found = await readPlacings(farm.db, farm.seasonId)
  const nameOf = new Map(lots.map(({ id, name }) => [id, name]))
  return asked.map((each) => {
    const { problem } = each
    const known = found.get(problem.variety)
    return {
      variety: problem.variety,
      rows: rows
        .filter(({ variety }) => variety === problem.variety)
        .map((row) => ({ ...row, lot: nameOf.get(row.lotId) ?? '' })),
      found: known?.found ?? null,
      isStale: known !== undefined && ![hashOf(each), dataHash(problem)].includes(known.dataHash),
    }
  })
}

/** Places the lots of every variety anew. What is kept where it is stays. */
export function placeNow(engine: Engine, { today }: { today: string }): Promise<VarietyPlacing[]> {
  return besidePlan(engine, async (solver, signal) => {
    const { farm, asked } = await engine.alone(async () => {
      const open = farmOf(engine)
      return { farm: open, ...(await askedNow(open, today)) }
    })
    if (asked.length === 0) throw new ProblemError([nothingToPlace])
    for (const each of asked) {
      const { problem, varietyId, fieldIds, lotIds } = each
      const placing = valueOf(await placeLots(problem, { gap: GAP, seconds: SECONDS, signal }, solver))
      const rows = rowsOf(placing.placed, fieldIds, lotIds)
      await engine.alone(async () => {
        requireSameFarm(engine, farm)
        const hash = hashOf(each)
        await inTransaction(farm.connection, null, () =>
          writePlacing(farm.db, farm.seasonId, { varietyId, placing, dataHash: hash, rows }),
        )
      })
      if (signal.aborted) break
    }
    return engine.alone(() => placingsNow(farm, today))
  })
}

interface Asked {
  problem: LotProblem
  varietyId: number
  /** By the problem's own names of fields. */
  fieldIds: Map<string, number>
  lotIds: Map<string, number>
  windowIds: Map<string, number>
}

/** Of what is asked, by rows instead of names: a rename makes no placing out of date. Older files hashed the names. */
function hashOf({ problem, varietyId, fieldIds, lotIds, windowIds }: Asked): string {
  const fields = problem.fields.map((field) => ({
    ...field,
    id: fieldIds.get(field.id) ?? 0,
    window: windowIds.get(field.window) ?? 0,
  }))
  return dataHash({
    ...problem,
    variety: varietyId,
    lots: problem.lots.map((lot) => ({ ...lot, id: lotIds.get(lot.id) })),
    fields: fields.sort((a, b) => a.id - b.id || a.window - b.window),
    locks: problem.locks.map(({ field, lot }) => [fieldIds.get(field), lotIds.get(lot)].join(' ')).sort(),
  })
}

async function askedNow(farm: Place, today: string): Promise<{ asked: Asked[]; lots: LotRow[]; rows: StoredRow[] }> {
  const { db, seasonId } = farm
  const { blocks } = await ratesNow(farm, today)
  const lots = await lotsNow(farm)
  const rows = await readLotFields(db, seasonId)
  const book = await bookOf(farm)
  const windows = await db
    .selectFrom('planting_window')
    .where('seasonId', '=', seasonId)
    .select(['id', 'name', 'kind'])
    .execute()
  const windowIds = new Map(windows.map(({ id, name }) => [name, id]))
  const early = new Set(windows.flatMap(({ name, kind }) => (kind === 'early' ? [name] : [])))
  const usable = onHandOf(lots).filter((lot) => poundsOnHand(lot) > 0)
  const asked = [...new Set(blocks.map(({ variety }) => variety))].sort().flatMap((variety): Asked[] => {
    const own = usable.filter((lot) => lot.variety === variety)
    const ground = blocks.filter((block) => block.variety === variety && block.acres > block.plantedAcres)
    const varietyId = own[0]?.varietyId
    if (varietyId === undefined || ground.length === 0) return []
    const kept = rows.filter((row) => row.isKept && row.variety === variety)
    return [askedOf({ variety, varietyId, lots: own, blocks: ground, kept, book, early, windowIds })]
  })
  return { asked, lots, rows }
}

interface Ground {
  variety: string
  varietyId: number
  lots: LotRow[]
  blocks: RateBlock[]
  kept: StoredRow[]
  book: Book
  early: ReadonlySet<string>
  windowIds: Map<string, number>
}

function askedOf({ variety, varietyId, lots, blocks, kept, book, early, windowIds }: Ground): Asked {
  const weakBelow = book.number('germination/warn below')
  // A field with blocks in two windows stands twice.
  const nameOf = (block: RateBlock) =>
    blocks.filter(({ field }) => field === block.field).length > 1 ? `${block.field}, ${block.window}` : block.field
  const fields = blocks.map((block) => ({
    id: nameOf(block),
    acres: block.acres - block.plantedAcres,
    window: block.window,
    isCold: early.has(block.window),
    poundsPerAcre: lots.map((lot) => block.lots.find(({ lotId }) => lotId === lot.id)?.poundsPerAcre ?? null),
  }))
  const locks = kept.flatMap((row) => {
    const lot = lots.find(({ id }) => id === row.lotId)
    if (lot === undefined) return []
    return blocks
      .filter(({ fieldId }) => fieldId === row.fieldId)
      .map((block) => ({ field: nameOf(block), lot: lot.name }))
  })
  const problem: LotProblem = {
    variety,
    lots: lots.map((lot) => ({
      id: lot.name,
      pounds: poundsOnHand(lot),
      isWeak: lot.germination < weakBelow,
      isCarried: lot.carriedSeedId !== null,
    })),
    fields,
    locks,
    costs: placingCosts(book),
  }
  return {
    problem,
    varietyId,
    fieldIds: new Map(blocks.map((block) => [nameOf(block), block.fieldId])),
    lotIds: new Map(lots.map(({ id, name }) => [name, id])),
    windowIds,
  }
}

/** One row for each lot and field, also where the field has two blocks. */
function rowsOf(placed: readonly LotOnField[], fieldIds: Asked['fieldIds'], lotIds: Asked['lotIds']) {
  const rows = new Map<string, NewPlacing['rows'][number]>()
  for (const { field, lot, acres, pounds } of placed) {
    const [fieldId, lotId] = [fieldIds.get(field), lotIds.get(lot)]
    if (fieldId === undefined || lotId === undefined) continue
    const key = `${lotId}/${fieldId}`
    const known = rows.get(key)
    rows.set(key, { lotId, fieldId, acres: acres + (known?.acres ?? 0), pounds: pounds + (known?.pounds ?? 0) })
  }
  return [...rows.values()]
}

const nothingToPlace: Problem = {
  code: 'missing',
  what: 'There is no variety that has both lots on the farm and ground to plant.',
  remedy: 'Write down what was delivered; a plan says which fields it is for.',
}
