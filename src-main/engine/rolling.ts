/**
 * From one season to the next in the same farm file: what the records say grew where, seed that is left, the new season
 * beside the old one, which is closed for reading. And the seasons side by side, and going from one to another.
 */
import { harvestByField } from '../../src-shared/harvest-total.ts'
import { isPeanut } from '../../src-shared/crop.ts'
import { poundsOnHand, scaleSlack } from '../../src-shared/lot.ts'
import { sumsOf } from '../../src-shared/order.ts'
import type { Plan } from '../../src-shared/plan.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import {
  carriedOf,
  cropsOf,
  historyHas,
  lastYear,
  noNext,
  peanut,
  rollSeason,
  type LeftLot,
  type RollField,
  type RollLook,
  type SeasonRow,
} from '../../src-shared/roll.ts'
import { showCount, showShort, showWhole } from '../../src-shared/show.ts'
import { tryBackup } from './backups.ts'
import { inTransaction } from './db/transaction.ts'
import { farmOf, type Engine } from './engine.ts'
import { atSeason, type OpenFarm } from './farm-file.ts'
import { readFarm } from './farms.ts'
import { listFields } from './fields.ts'
import { harvestNow } from './harvesting.ts'
import { listLoads } from './loads.ts'
import { readLots } from './lots.ts'
import { readOrders } from './orders.ts'
import { gather } from './plan/gather.ts'
import { stopSolving } from './planning.ts'
import { planInHand } from './plans.ts'
import { readPlantings } from './plantings.ts'
import { stopWork } from './reasoning.ts'
import { storeNextSeason } from './season-store.ts'
import {
  closeSeason,
  countBehind,
  groundIds,
  hasPlan,
  listSeasons,
  openSeasonId,
  requireSeason,
  wouldUnroll,
} from './seasons.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

/** What the next season would begin with. Nothing is written. */
export async function rollLook(farm: Place): Promise<RollLook> {
  const { db, seasonId } = farm
  const { season: year } = await readFarm(db, seasonId)
  const plantings = await readPlantings(db, seasonId)
  const stored = await planInHand(db, seasonId)
  const fields = await grownFields(farm, year, stored?.plan ?? null)
  const left = await leftLots(farm)
  const half = plantings.filter(({ isFinished }) => !isFinished).length
  const unwritten = await unwrittenSeed(farm)
  return {
    year,
    fields,
    left,
    behind: await countBehind(db, seasonId),
    heeds: [
      ...(half > 0 ? [`${showCount(half, 'planting is', 'plantings are')} half-finished and not counted.`] : []),
      ...unwritten.map(
        ({ name, pounds }) =>
          `${name}, ${showWhole(pounds)} lb on hand last winter, was never written down as a lot: whether any is left is not known, and it is not taken along.`,
      ),
    ],
  }
}

async function grownFields({ db, seasonId }: Place, year: number, plan: Plan | null): Promise<RollField[]> {
  const entries = (await readPlantings(db, seasonId)).filter(({ isFinished }) => isFinished)
  const planted = new Set(entries.map(({ fieldId }) => fieldId))
  const hauled = new Set((await listLoads(db, seasonId)).map(({ fieldId }) => fieldId))
  const planned = new Set(plan?.blocks.map(({ field }) => field))
  return (await listFields(db, seasonId)).map(({ id, name, acres, history }): RollField => {
    const base = { fieldId: id, field: name, acres }
    if (planted.has(id)) return { ...base, crop: peanut, from: 'a planting' }
    const written =
      history.find(({ season, crop }) => season === year && isPeanut(crop)) ??
      history.find(({ season }) => season === year)
    if (written) return { ...base, crop: written.crop, from: 'its history' }
    if (hauled.has(id)) return { ...base, crop: peanut, from: 'its loads' }
    // Where nothing at all was written down as planted, the plan is what is known: to be confirmed.
    if (entries.length === 0 && planned.has(name)) return { ...base, crop: peanut, from: 'the plan' }
    return { ...base, crop: null, from: null }
  })
}

/** Lots on the farm of which seed is left, several parts of one together. */
async function leftLots({ db, seasonId }: Place): Promise<LeftLot[]> {
  const left = new Map<string, LeftLot>()
  const own = await db
    .selectFrom('carried_seed')
    .where('seasonId', '=', seasonId)
    .where('isOwnGrown', '=', 1)
    .select('id')
    .execute()
  const ownIds = new Set(own.map(({ id }) => id))
  for (const lot of await readLots(db, seasonId)) {
    const pounds = poundsOnHand(lot)
    if (lot.state !== 'received' || pounds <= scaleSlack) continue
    const key = JSON.stringify([lot.variety, lot.name])
    const known = left.get(key)
    if (known) known.pounds += pounds
    else {
      left.set(key, {
        lotId: lot.id,
        variety: lot.variety,
        lot: showShort(lot.name, 80),
        pounds,
        isTreated: lot.isTreated,
        isOwnGrown: lot.carriedSeedId !== null && ownIds.has(lot.carriedSeedId),
      })
    }
  }
  return [...left.values()]
}

/** Seed that was carried into this season and never written down as a lot. */
async function unwrittenSeed({ db, seasonId }: Place): Promise<{ name: string; pounds: number }[]> {
  const rows = await db
    .selectFrom('carried_seed')
    .innerJoin('variety', 'variety.id', 'carried_seed.varietyId')
    .leftJoin('lot', 'lot.carriedSeedId', 'carried_seed.id')
    .where('carried_seed.seasonId', '=', seasonId)
    .where('lot.id', 'is', null)
    .select(['variety.name as variety', 'carried_seed.lot', 'carried_seed.pounds'])
    .orderBy('carried_seed.id')
    .execute()
  return rows.map(({ variety, lot, pounds }) => ({ name: lot === null ? variety : `${variety}, lot ${lot}`, pounds }))
}

/**
 * The season at hand as it would go on, nothing written.
 * @param said field's id → what grew there, for fields that the records do not tell of
 */
async function nextOf(farm: Place, said: ReadonlyMap<number, string>) {
  const season = await gather(farm.db, farm.seasonId)
  if (season.season >= lastYear) throw new ProblemError([noNext])
  const { fields, left } = await rollLook(farm)
  for (const fieldId of said.keys()) {
    if (!fields.some((field) => field.fieldId === fieldId)) throw new ProblemError([notHere])
  }
  const crops = cropsOf(fields, ({ fieldId }) => said.get(fieldId))
  return { season, next: rollSeason(season, crops, carriedOf(left)), crops, left }
}

/**
 * Closes the season and begins the next; one undo step, so that it can be taken back until a plan of the new season is
 * made. @returns the new season's crop year
 */
export async function rollNow(engine: Engine, given: readonly { fieldId: number; crop: string }[]): Promise<number> {
  const farm = farmOf(engine)
  const { db, connection, seasonId } = farm
  const said = new Map(given.map(({ fieldId, crop }) => [fieldId, crop]))
  const { season, next, crops, left } = await nextOf(farm, said)
  const ground = await groundIds(db, seasonId)
  stopSolving(engine)
  stopWork(engine)
  // Kept for ever, as the season was when it ended.
  if (!farm.isDemo) tryBackup(farm, 'end of season', new Date())
  const nextId = await inTransaction(connection, `Begin season ${next.season}`, () => {
    closeSeason(connection, seasonId)
    const id = storeNextSeason(connection, next, ground)
    for (const { name, history } of season.fields) {
      const crop = crops.get(name)
      if (crop === undefined || historyHas(history, season.season, crop)) continue
      connection
        .prepare('INSERT INTO crop_history (fieldId, year, crop) VALUES (?, ?, ?)')
        .run(ground.get(name), season.season, crop)
    }
    const link = connection.prepare(
      'UPDATE carried_seed SET fromLotId = ? WHERE seasonId = ? AND lot = ? AND varietyId = (SELECT id FROM variety WHERE seasonId = ? AND name = ?)',
    )
    for (const { lotId, lot, variety } of left) link.run(lotId, id, lot, id, variety)
    return id
  })
  engine.farm = atSeason(farm, nextId)
  return next.season
}

/** Goes to another season of the farm: the open one, or one that is over, to read in it. */
export async function goToSeason(engine: Engine, id: number): Promise<void> {
  const farm = farmOf(engine)
  if (farm.seasonId === id) return
  await requireSeason(farm.db, id)
  stopSolving(engine)
  stopWork(engine)
  engine.farm = atSeason(farm, id)
}

/** Before a step is taken back: a season that was planned in is not undone by a key pressed too often. */
export function requireNoPlan({ connection, seasonId }: Pick<OpenFarm, 'connection' | 'seasonId'>): void {
  if (wouldUnroll(connection) && hasPlan(connection, seasonId)) throw new ProblemError([isPlanned])
}

/** After a step was taken back or done again: the season that is open now. */
export function settleSeason(engine: Engine): void {
  const farm = farmOf(engine)
  const open = openSeasonId(farm.connection)
  if (open !== farm.seasonId || farm.isReadOnly) {
    stopSolving(engine)
    stopWork(engine)
    engine.farm = atSeason(farm, open)
  }
}

/** Every season's figures, newest first. */
export async function seasonsNow({ db }: Pick<OpenFarm, 'db'>): Promise<SeasonRow[]> {
  const rows: SeasonRow[] = []
  for (const season of await listSeasons(db)) {
    const place = { db, seasonId: season.id }
    const { fields } = await harvestNow(place)
    const loads = await listLoads(db, season.id)
    const hauled = harvestByField(fields, loads).filter((field) => field.loads > 0)
    const sum = <Thing>(things: readonly Thing[], of: (thing: Thing) => number) =>
      things.reduce((total, thing) => total + of(thing), 0)
    const tons = sum(hauled, (field) => field.tons)
    const acresHauled = sum(hauled, ({ acresCounted }) => acresCounted)
    const totals = (await planInHand(db, season.id))?.plan?.totals
    const valued = loads.filter(({ valueCents }) => valueCents !== null)
    rows.push({
      ...season,
      fields: fields.length,
      acres: sum(fields, ({ acres }) => acres),
      plantedAcres: sum(fields, ({ plantedAcres }) => plantedAcres),
      varieties: new Set(fields.flatMap(({ varieties }) => varieties)).size,
      tons: loads.length > 0 ? tons : null,
      tonsPerAcre: acresHauled > 0 ? tons / acresHauled : null,
      valueCents: valued.length > 0 ? sum(valued, ({ valueCents }) => valueCents ?? 0) : null,
      planCentsPerAcre: totals && totals.acres > 0 ? totals.costCents / totals.acres : null,
      seedCents: sum(await readOrders(db, season.id), (order) => sumsOf(order).cents),
    })
  }
  return rows
}

const notHere = {
  code: 'unknown-name' as const,
  what: 'A field that is not in this season was told of.',
  remedy: 'Look at the list again; the field may have been removed.',
}

const isPlanned = {
  code: 'in-use' as const,
  what: 'The step before is the beginning of this season, and the season has a plan by now: it is not taken back.',
  remedy: 'Go on in this season; the one before can be read at the top of the window.',
}
