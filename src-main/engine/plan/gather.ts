/**
 * Database → the one plain value that a plan is made from. The only reader among plan/. Everything is sorted, so
 * that the same farm gives the same text, the same hash and the same plan.
 */
import type { Kysely } from 'kysely'
import type { Carried } from '../../../src-shared/variety.ts'
import { quoteTitle, type Dealer } from '../../../src-shared/quote.ts'
import { seasonVersion, type Season } from '../../../src-shared/season.ts'
import type { Measure } from '../../../src-shared/threat.ts'
import { byText, withoutNulls } from '../db/row.ts'
import type { Tables } from '../db/tables.ts'
import { readFarm } from '../farms.ts'
import { readFields } from '../fields.ts'
import { readExclusions, readLocks } from '../locks.ts'
import { listQuotes } from '../quotes.ts'
import { readAssumptions, readRules } from '../rules.ts'
import { listVarieties } from '../varieties.ts'

export async function gather(db: Kysely<Tables>, seasonId: number): Promise<Season> {
  const { farm, season } = await readFarm(db, seasonId)
  return {
    format: 'standwell-season',
    version: seasonVersion,
    farm,
    season,
    windows: await readWindows(db, seasonId),
    weeks: await readWeeks(db, seasonId),
    machines: await readMachines(db, seasonId),
    threats: await readThreats(db, seasonId),
    measures: await readMeasures(db, seasonId),
    fields: (await readFields(db, seasonId)).map(({ id: _, ...field }) => field).sort(byText(({ name }) => name)),
    varieties: (await listVarieties(db, seasonId))
      .map(({ id: _, ...variety }) => variety)
      .sort(byText(({ name }) => name)),
    dealers: await readDealers(db, seasonId),
    quotes: (await listQuotes(db, seasonId))
      .map(({ id: _id, centsPerThousandSeeds: _cents, ...quote }) => quote)
      .sort(byText(quoteTitle)),
    carried: await readCarried(db, seasonId),
    contracts: await readContracts(db, seasonId),
    rules: await readRules(db, seasonId),
    assumptions: await readAssumptions(db, seasonId),
    locks: await readLocks(db, seasonId),
    exclusions: await readExclusions(db, seasonId),
  }
}

async function readWindows(db: Kysely<Tables>, seasonId: number): Promise<Season['windows']> {
  const rows = await db
    .selectFrom('planting_window')
    .where('seasonId', '=', seasonId)
    .select(['name', 'kind', 'opens', 'closes'])
    .execute()
  return rows.sort(byText((window) => window.name))
}

async function readMachines(db: Kysely<Tables>, seasonId: number): Promise<Season['machines']> {
  const rows = await db
    .selectFrom('machine')
    .where('seasonId', '=', seasonId)
    .select(['name', 'kind', 'count', 'rows', 'widthFt', 'speedMph', 'fieldEfficiency', 'hoursPerDay'])
    .select(['availableFrom', 'availableUntil'])
    .orderBy('id')
    .execute()
  return rows.map(withoutNulls).sort(byText((machine) => machine.name))
}

async function readWeeks(db: Kysely<Tables>, seasonId: number): Promise<Season['weeks']> {
  const rows = await db
    .selectFrom('season_week')
    .where('seasonId', '=', seasonId)
    .select(['starts', 'plantingDays', 'diggingDays', 'combiningDays', 'note'])
    .orderBy('id')
    .execute()
  return rows.map(withoutNulls).sort(byText((week) => week.starts))
}

async function readContracts(db: Kysely<Tables>, seasonId: number): Promise<Season['contracts']> {
  const rows = await db.selectFrom('contract').where('seasonId', '=', seasonId).selectAll().execute()
  return rows.map(({ id: _, seasonId: _season, ...plain }) => withoutNulls(plain)).sort(byText(({ name }) => name))
}

async function readThreats(db: Kysely<Tables>, seasonId: number): Promise<Season['threats']> {
  const rows = await db.selectFrom('threat').where('seasonId', '=', seasonId).select(['name', 'kind', 'note']).execute()
  return rows.map(withoutNulls).sort(byText((threat) => threat.name))
}

async function readMeasures(db: Kysely<Tables>, seasonId: number): Promise<Measure[]> {
  const rows = await db.selectFrom('measure').where('seasonId', '=', seasonId).selectAll().execute()
  const efficacy = await db
    .selectFrom('measure_efficacy')
    .innerJoin('threat', 'threat.id', 'measure_efficacy.threatId')
    .where('threat.seasonId', '=', seasonId)
    .select(['measure_efficacy.measureId', 'threat.name', 'measure_efficacy.share'])
    .execute()
  const efficacyOf = Map.groupBy(efficacy, (row) => row.measureId)
  return rows
    .map(({ id, seasonId: _, isPesticide, ...plain }): Measure => {
      const own = (efficacyOf.get(id) ?? []).sort(byText((entry) => entry.name))
      return {
        ...withoutNulls(plain),
        isPesticide: isPesticide === 1,
        efficacy: Object.fromEntries(own.map((entry) => [entry.name, entry.share])),
      }
    })
    .sort(byText((measure) => measure.name))
}

async function readDealers(db: Kysely<Tables>, seasonId: number): Promise<Dealer[]> {
  const rows = await db.selectFrom('dealer').where('seasonId', '=', seasonId).selectAll().execute()
  const breaks = await db
    .selectFrom('dealer_break')
    .innerJoin('dealer', 'dealer.id', 'dealer_break.dealerId')
    .where('dealer.seasonId', '=', seasonId)
    .select(['dealer_break.dealerId', 'dealer_break.fromPounds', 'dealer_break.offCentsPerPound'])
    .orderBy('dealer_break.fromPounds')
    .orderBy('dealer_break.id')
    .execute()
  const breaksOf = Map.groupBy(breaks, (row) => row.dealerId)
  return rows
    .map(({ id, seasonId: _, ...plain }): Dealer => ({
      ...withoutNulls(plain),
      breaks: (breaksOf.get(id) ?? []).map(({ fromPounds, offCentsPerPound }) => ({ fromPounds, offCentsPerPound })),
    }))
    .sort(byText((dealer) => dealer.name))
}

async function readCarried(db: Kysely<Tables>, seasonId: number): Promise<Carried[]> {
  const rows = await db
    .selectFrom('carried_seed')
    .innerJoin('variety', 'variety.id', 'carried_seed.varietyId')
    .where('carried_seed.seasonId', '=', seasonId)
    .select(['variety.name as variety', 'carried_seed.lot', 'carried_seed.pounds', 'carried_seed.germination'])
    .select(['carried_seed.mustUse', 'carried_seed.isOwnGrown'])
    .orderBy('carried_seed.id')
    .execute()
  return rows
    .map(({ mustUse, isOwnGrown, ...plain }): Carried => ({
      ...withoutNulls(plain),
      mustUse: mustUse === 1,
      isOwnGrown: isOwnGrown === 1,
    }))
    .sort(byText((carried) => JSON.stringify([carried.variety, carried.lot ?? ''])))
}
