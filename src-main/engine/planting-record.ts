/** The planting record as the page shows it: entries, what is missing in them, stands against target and promise. */
import { contextOf, type Context } from '../../src-shared/agronomy/context.ts'
import { practicesOf } from '../../src-shared/agronomy/block-money.ts'
import { replantChoices, type ReplantCase } from '../../src-shared/agronomy/replant.ts'
import { standOf } from '../../src-shared/agronomy/seed.ts'
import { judgeStand, standFrom } from '../../src-shared/agronomy/stand-count.ts'
import { balanceOf, poundsOnHand, scaleSlack, type LotRow } from '../../src-shared/lot.ts'
import { byName } from '../../src-shared/name-order.ts'
import { standing } from '../../src-shared/order.ts'
import { missingOf, type PlantingRow, type PlantingsNow, type StandCountRow } from '../../src-shared/planting.ts'
import { showAcres, showWhole } from '../../src-shared/show.ts'
import type { Measure } from '../../src-shared/threat.ts'
import type { WindowKind } from '../../src-shared/window.ts'
import type { OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { readOrders } from './orders.ts'
import { gather } from './plan/gather.ts'
import { readCounts, readPlantings, type PlainCount, type PlainPlanting } from './plantings.ts'
import { lotsNow } from './receiving.ts'
import { unusualIn } from './unusual-entries.ts'

export async function plantingsNow(farm: OpenFarm): Promise<PlantingsNow> {
  const { db, seasonId } = farm
  const context = contextOf(await gather(db, seasonId))
  const lots = await lotsNow(farm)
  const entries = await readPlantings(db, seasonId)
  const counts = await readCounts(db, seasonId)
  const measures = await measuresOf(farm)
  const unusual = await unusualIn(farm)
  const prices = await seedPrices(farm, context)
  const plantings = entries.map((entry): PlantingRow => {
    const used = measures.filter(({ id }) => entry.measureIds.includes(id)).map(({ name }) => name)
    const own = entry.lots.flatMap((planted) => {
      const lot = lots.find(({ id }) => id === planted.lotId)
      return lot ? [{ ...planted, lot }] : []
    })
    return {
      ...entry,
      lots: own.map(({ lot, ...planted }) => ({
        ...planted,
        name: lot.name,
        variety: lot.variety,
        isTreated: lot.isTreated,
      })),
      measures: used,
      missing: missingOf(entry),
      counts: counts
        .filter(({ plantingId }) => plantingId === entry.id)
        .map((count) => countRow(context, count, entry, own, practicesOf(context, used), prices)),
    }
  })
  const entriesOf = (lotId: number) => entries.filter((entry) => entry.lots.some((lot) => lot.lotId === lotId)).length
  const fields = (await listFields(db, seasonId)).map(({ id, name, acres, rowPattern, rowSpacingIn }) => ({
    id,
    name,
    acres,
    rowPattern,
    rowSpacingIn,
    plantedAcres: entries
      .filter((entry) => entry.isFinished && entry.fieldId === id)
      .reduce((sum, entry) => sum + (entry.acres ?? 0), 0),
  }))
  return {
    plantings,
    fields,
    lots: lots
      .filter(({ state }) => state === 'received')
      .map((lot) => ({
        id: lot.id,
        name: lot.name,
        variety: lot.variety,
        onHandPounds: poundsOnHand(lot),
        packPounds: lot.packPounds,
        isTreated: lot.isTreated,
      })),
    measures,
    heeds: [
      ...entries.filter(({ isFinished }) => isFinished).flatMap((entry) => unusual(entry).map(({ what }) => what)),
      ...fields
        .filter(({ acres, plantedAcres }) => plantedAcres > acres + 0.05)
        .map(({ name, acres, plantedAcres }) => {
          return `${name}: ${showAcres(plantedAcres)} acres are written down as planted, the field has ${showAcres(acres)}.`
        }),
      ...lots
        // Pounds of several entries, each to the whole pound, may come to some more.
        .filter((lot) => balanceOf(lot).left < -scaleSlack * Math.max(1, entriesOf(lot.id)))
        .map((lot) => {
          return `Lot ${lot.name}: ${showWhole(lot.plantedPounds)} lb planted of ${showWhole(lot.pounds - lot.returnedPounds)} lb that were here.`
        }),
    ],
  }
}

async function measuresOf({ db, seasonId }: OpenFarm): Promise<PlantingsNow['measures']> {
  const rows = await db
    .selectFrom('measure')
    .where('seasonId', '=', seasonId)
    .select(['id', 'name', 'isPesticide'])
    .execute()
  return rows.sort(byName(({ name }) => name)).map((row) => ({ ...row, isPesticide: row.isPesticide === 1 }))
}

/** [cent/lb] of each variety's seed as it was ordered, else as its first quote has it. */
async function seedPrices({ db, seasonId }: OpenFarm, { season }: Context): Promise<Map<string, number>> {
  const prices = new Map<string, number>()
  for (const { variety, packPriceCents, packPounds } of season.quotes) {
    if (!prices.has(variety)) prices.set(variety, packPriceCents / packPounds)
  }
  for (const line of (await readOrders(db, seasonId)).flatMap((order) => order.lines)) {
    const { packs, packPriceCents } = standing(line)
    if (packs > 0) prices.set(line.variety, packPriceCents / line.packPounds)
  }
  return prices
}

/** A count against the reference stand, against what its lots promised, and the choices where it is thin. */
function countRow(
  context: Context,
  { id, countedOn, spots, note }: PlainCount,
  entry: PlainPlanting,
  lots: readonly { lot: LotRow; pounds: number }[],
  practices: readonly Measure[],
  prices: ReadonlyMap<string, number>,
): StandCountRow {
  const { book } = context
  const field = context.season.fields.find(({ name }) => name === entry.field)
  const target = book.number('stand/reference')
  const stand = standFrom(spots)
  const verdict = judgeStand(stand, target)
  const rows = entry.rowPattern ?? field?.rowPattern ?? 'single'
  const pounds = lots.reduce((sum, each) => sum + each.pounds, 0)
  const germination =
    pounds > 0 ? lots.reduce((sum, each) => sum + each.pounds * each.lot.germination, 0) / pounds : null
  const promised =
    germination === null || entry.seedsPerFoot === null
      ? null
      : standOf(entry.seedsPerFoot, germination, context.emergence[rows])
  const againstPromise = promised === null ? null : judgeStand(stand, promised)
  const lot = lots[0]?.lot
  const price = lot && prices.get(lot.variety)
  const base = { id, countedOn, spots, note, stand, target, verdict, promised, againstPromise }
  if (verdict === 'as wanted' || field === undefined || lot === undefined || price === undefined) {
    return { ...base, replant: null }
  }
  const variety = context.season.varieties.find(({ name }) => name === lot.variety)
  if (variety === undefined) return { ...base, replant: null }
  const plantedOn = entry.plantedOn ?? countedOn
  const of: ReplantCase = {
    growing: {
      field: { ...field, rowPattern: rows },
      variety,
      window: windowKindOn(context, plantedOn),
      planted: plantedOn,
    },
    practices,
    countedOn,
    seedsPerFoot: entry.seedsPerFoot ?? context.houseDrop[rows],
    germination: germination ?? variety.germination,
    rowSpacingIn: entry.rowSpacingIn ?? field.rowSpacingIn,
    seedsPerPound: lot.seedsCounted,
    seedCentsPerPound: price,
  }
  const choices = (plants: number) => replantChoices(context, plants, of)
  const at = (plants: number | null) => (plants === null ? null : choices(plants))
  return { ...base, replant: { mean: choices(stand.mean), low: at(stand.low), high: at(stand.high) } }
}

/** Kind of the window that a day lies in; the usual one where it lies in none. */
function windowKindOn({ season }: Context, day: string): WindowKind {
  const at = day.slice(5)
  return season.windows.find(({ opens, closes }) => opens <= at && at <= closes)?.kind ?? 'usual'
}
