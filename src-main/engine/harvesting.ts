/** Harvest as the page shows it: what was planted where, what is known of costs already, and what waits. */
import type { HarvestNow, HarvestWaiting, KnownCost, PlantedGround } from '../../src-shared/harvest-total.ts'
import { byName } from '../../src-shared/name-order.ts'
import { sumsOf } from '../../src-shared/order.ts'
import type { Plan, PlanBlock } from '../../src-shared/plan.ts'
import { entryCents } from '../../src-shared/review/entry-cents.ts'
import { groundOf, type Ground } from '../../src-shared/review/ground.ts'
import type { ReviewInput } from '../../src-shared/review/review-input.ts'
import { machineBills } from '../../src-shared/review/work-bills.ts'
import type { Season } from '../../src-shared/season.ts'
import { showAcres, showCents, showCount } from '../../src-shared/show.ts'
import { listCosts } from './costs.ts'
import type { OpenFarm } from './farm-file.ts'
import { listLoads } from './loads.ts'
import { readLots } from './lots.ts'
import { readOrders } from './orders.ts'
import { readMeasureNames, readPlantings } from './plantings.ts'
import { readReviewInput } from './review-input.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

export async function harvestNow(farm: Place): Promise<HarvestNow> {
  const record = await readReviewInput(farm)
  const ground = groundOf(record)
  return {
    fields: await plantedGround(farm),
    known: [
      ...(await seedOnOrder(farm, ground.acres)),
      ...measuresKnown(record.season, await plantedWith(farm), record.planned?.plan ?? null),
      ...machineWork(record, ground),
    ],
  }
}

/** Nothing waits in a farm that has planted nothing: winter is not slowed by fall. */
export async function harvestWaiting(farm: Place): Promise<HarvestWaiting> {
  const fields = (await plantedGround(farm)).filter(({ plantedAcres }) => plantedAcres > 0)
  const loads = await listLoads(farm.db, farm.seasonId)
  const hauled = new Set(loads.map(({ fieldId }) => fieldId))
  return {
    planted: fields.length,
    withoutLoad: fields.filter(({ fieldId }) => !hauled.has(fieldId)).length,
    loads: loads.length,
    unvalued: loads.filter(({ valueCents }) => valueCents === null).length,
    heeded: loads.filter(({ heed, isConfirmed }) => heed !== undefined && !isConfirmed).length,
  }
}

async function plantedGround({ db, seasonId }: Place): Promise<PlantedGround[]> {
  const fields = await db
    .selectFrom('field_season')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .where('field_season.seasonId', '=', seasonId)
    .select(['field.id as fieldId', 'field.name as field', 'field_season.acres'])
    .execute()
  const entries = (await readPlantings(db, seasonId)).filter(({ isFinished }) => isFinished)
  const varietyOf = new Map((await readLots(db, seasonId)).map(({ id, variety }) => [id, variety]))
  return fields.sort(byName(({ field }) => field)).map((field): PlantedGround => {
    const own = entries.filter(({ fieldId }) => fieldId === field.fieldId)
    const varieties = own.flatMap(({ lots }) => lots.flatMap(({ lotId }) => varietyOf.get(lotId) ?? []))
    return {
      ...field,
      plantedAcres: own.reduce((sum, { acres }) => sum + (acres ?? 0), 0),
      varieties: [...new Set(varieties)].sort(),
    }
  })
}

/** @param acres planted on the farm, for invoices by the acre */
async function seedOnOrder({ db, seasonId }: Place, acres: number): Promise<KnownCost[]> {
  const bills = (await listCosts(db, seasonId)).filter(({ kind }) => kind === 'seed')
  return (await readOrders(db, seasonId)).flatMap((order): KnownCost[] => {
    const { cents, packs } = sumsOf(order)
    if (packs === 0) return []
    const own = bills.filter(({ dealer }) => dealer === order.dealer)
    const billed = own.reduce((sum, bill) => sum + entryCents(bill, acres), 0)
    const instead = own.length === 0 ? '' : `; your invoices of ${showCents(billed)} below are counted in its place`
    const from = `${showCount(packs, 'pack')} on order, fee and break counted${instead}`
    return [{ kind: 'seed', says: `Seed from ${order.dealer}`, cents, from }]
  })
}

/** Ground with the names of the measures used on it. */
type Treated = Pick<PlanBlock, 'acres' | 'programme'>

/** Of every field with a finished planting, measure by measure: what was planted again was not treated twice. */
async function plantedWith({ db, seasonId }: Place): Promise<Treated[]> {
  const nameOf = await readMeasureNames(db, seasonId)
  const entries = (await readPlantings(db, seasonId)).filter(({ isFinished }) => isFinished)
  const grounds = await plantedGround({ db, seasonId })
  return grounds.flatMap(({ fieldId, acres: most }) => {
    const own = entries.filter((entry) => entry.fieldId === fieldId)
    return [...new Set(own.flatMap(({ measureIds }) => measureIds))].flatMap((id): Treated[] => {
      const acres = own
        .filter(({ measureIds }) => measureIds.includes(id))
        .reduce((sum, entry) => sum + (entry.acres ?? 0), 0)
      const name = nameOf.get(id)
      return name === undefined ? [] : [{ acres: Math.min(acres, most), programme: [name] }]
    })
  })
}

/** Measures at the house's rates: as the plantings tell, and until there is one as the plan in hand has them. */
function measuresKnown(season: Season, planted: readonly Treated[], plan: Plan | null): KnownCost[] {
  const ground = planted.length > 0 ? planted : (plan?.blocks ?? [])
  return season.measures.flatMap(({ name, centsPerAcre }): KnownCost[] => {
    const acres = ground
      .filter(({ programme }) => programme.includes(name))
      .reduce((sum, { acres: own }) => sum + own, 0)
    if (acres === 0) return []
    const of = planted.length > 0 ? 'acres planted with it' : 'acres of the plan'
    const from = `${showAcres(acres)} ${of} × ${showCents(centsPerAcre)}`
    return [{ kind: 'measure', says: name, cents: Math.round(acres * centsPerAcre), from }]
  })
}

/** Digging and combining: what the review counts for fields that were hauled from, and apart what is still in the ground. */
function machineWork(record: ReviewInput, ground: Ground): KnownCost[] {
  const hauled = new Set(record.loads.map(({ field }) => field))
  const at = (isHauled: boolean) => machineBills(record, ground, (field) => hauled.has(field) === isHauled, [])
  const kinds = [
    { kind: 'digging', says: 'Digging' },
    { kind: 'combining', says: 'Combining' },
  ] as const
  return kinds.flatMap(({ kind, says }): KnownCost[] =>
    [true, false].flatMap((isHauled): KnownCost[] => {
      const bills = at(isHauled).filter(({ part }) => part === kind)
      if (bills.length === 0) return []
      const fields = new Set(bills.flatMap(({ posts }) => posts.map(({ field }) => field))).size
      const from = `${showCount(fields, 'field')} at the house’s rate an hour, slowed by the vine; the season review has each`
      return [
        {
          kind,
          says: isHauled ? says : `${says}, not hauled yet`,
          cents: bills.reduce((sum, { cents }) => sum + cents, 0),
          from: isHauled ? from : `${showCount(fields, 'field')} at the house’s rate an hour, slowed by the vine`,
        },
      ]
    }),
  )
}
