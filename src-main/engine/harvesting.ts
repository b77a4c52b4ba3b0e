/** Harvest as the page shows it: what was planted where, what is known of costs already, and what waits. */
import { contextOf, type Context } from '../../src-shared/agronomy/context.ts'
import { hoursPerAcre } from '../../src-shared/agronomy/harvest.ts'
import type { HarvestNow, HarvestWaiting, KnownCost, PlantedGround } from '../../src-shared/harvest-total.ts'
import { byName } from '../../src-shared/name-order.ts'
import { sumsOf } from '../../src-shared/order.ts'
import type { Plan, PlanBlock } from '../../src-shared/plan.ts'
import { showAcres, showCents, showCount, showNumber } from '../../src-shared/show.ts'
import { listCosts } from './costs.ts'
import type { OpenFarm } from './farm-file.ts'
import { listLoads } from './loads.ts'
import { readLots } from './lots.ts'
import { readOrders } from './orders.ts'
import { gather } from './plan/gather.ts'
import { planInHand } from './plans.ts'
import { readMeasureNames, readPlantings } from './plantings.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

export async function harvestNow(farm: Place): Promise<HarvestNow> {
  const { db, seasonId } = farm
  const context = contextOf(await gather(db, seasonId))
  const stored = await planInHand(db, seasonId)
  const fields = await plantedGround(farm)
  return {
    fields,
    known: [
      ...(await seedOnOrder(farm)),
      ...measuresKnown(context, await plantedWith(farm), stored?.plan ?? null),
      ...machineWork(
        context,
        // What was planted again is dug once.
        fields.reduce((sum, { acres, plantedAcres }) => sum + Math.min(acres, plantedAcres), 0),
      ),
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
    heeded: loads.filter(({ heed }) => heed !== undefined).length,
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

async function seedOnOrder({ db, seasonId }: Place): Promise<KnownCost[]> {
  const billed = new Set(
    (await listCosts(db, seasonId)).flatMap(({ kind, dealer }) => (kind === 'seed' && dealer ? [dealer] : [])),
  )
  return (await readOrders(db, seasonId)).flatMap((order): KnownCost[] => {
    const { cents, packs } = sumsOf(order)
    if (packs === 0) return []
    return [
      {
        kind: 'seed',
        says: `Seed from ${order.dealer}`,
        cents,
        from: `${showCount(packs, 'pack')} on order, fee and break counted${billed.has(order.dealer) ? '; its invoice below is counted instead' : ''}`,
      },
    ]
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
function measuresKnown({ season }: Context, planted: readonly Treated[], plan: Plan | null): KnownCost[] {
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

/** Digging and combining what was planted, at the house's rate an hour, on a vine that slows nothing. */
function machineWork({ season, book }: Context, acres: number): KnownCost[] {
  if (acres === 0) return []
  const kinds = [
    ['digging', 'digger'],
    ['combining', 'combine'],
  ] as const
  return kinds.flatMap(([kind, machine]): KnownCost[] => {
    const perAcre = hoursPerAcre(season.machines, machine, 0)
    if (perAcre === 0) return []
    const dollars = book.number(`harvest/${machine} hour`)
    const from = `${showAcres(acres)} acres × ${showNumber(perAcre, 2)} machine-hours × $${dollars}`
    return [
      {
        kind,
        says: kind === 'digging' ? 'Digging' : 'Combining',
        cents: Math.round(acres * perAcre * dollars * 100),
        from,
      },
    ]
  })
}
