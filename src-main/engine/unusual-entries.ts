/** Gathers what an entry is compared with, and asks before one that looks like a slip of typing is saved. */
import type { GivenDelivery } from '../../src-shared/delivery.ts'
import type { GivenLot } from '../../src-shared/lot.ts'
import type { GivenPlanting } from '../../src-shared/planting.ts'
import { ProblemError, type Problem } from '../../src-shared/problem.ts'
import { unusualAcres, unusualDelivery, unusualLot, unusualPlanting } from '../../src-shared/unusual.ts'
import type { OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { readLots } from './lots.ts'
import { readOrders } from './orders.ts'
import { readPlantings } from './plantings.ts'
import { planInHand } from './plans.ts'
import { listVarieties } from './varieties.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

function ask(problems: readonly Problem[]): void {
  if (problems.length > 0) throw new ProblemError([...problems])
}

async function yearOf({ db, seasonId }: Place): Promise<number> {
  return (await db.selectFrom('season').where('id', '=', seasonId).select('year').executeTakeFirstOrThrow()).year
}

/** Only a finished entry is asked about: a half-finished one is still being typed. @param id of the entry it replaces */
export async function askAboutPlanting(farm: Place, id: number | undefined, planting: GivenPlanting): Promise<void> {
  if (!planting.isFinished) return
  ask([...(await unusualIn(farm))(planting), ...(await acresIn(farm, id, planting))])
}

async function acresIn({ db, seasonId }: Place, id: number | undefined, planting: GivenPlanting): Promise<Problem[]> {
  const field = (await listFields(db, seasonId)).find((each) => each.id === planting.fieldId)
  if (field === undefined) return []
  const others = (await readPlantings(db, seasonId)).filter(
    (each) => each.id !== id && each.isFinished && each.fieldId === field.id,
  )
  return unusualAcres(
    field,
    others.reduce((sum, { acres }) => sum + (acres ?? 0), planting.acres ?? 0),
  )
}

/** What looks like a slip in a planting, saved or not; the farm is read once for all of them. */
export async function unusualIn(farm: Place): Promise<(planting: GivenPlanting) => Problem[]> {
  const { db, seasonId } = farm
  const season = await yearOf(farm)
  const fields = new Map((await listFields(db, seasonId)).map(({ id, name }) => [id, name]))
  const lots = new Map((await readLots(db, seasonId)).map((lot) => [lot.id, lot]))
  const blocks = (await planInHand(db, seasonId))?.plan.blocks ?? []
  return ({ fieldId, plantedOn, acres, lots: planted }) => {
    const field = fields.get(fieldId) ?? 'The field'
    const planned = [...new Set(blocks.flatMap((block) => (block.field === field ? [block.variety] : [])))]
    const pounds = planted.reduce((sum, lot) => sum + lot.pounds, 0)
    const own = planted.flatMap((each) => {
      const lot = lots.get(each.lotId)
      return lot ? [{ ...lot, packs: each.packs, pounds: each.pounds }] : []
    })
    return unusualPlanting({ field, plantedOn, acres, pounds, lots: own }, season, planned)
  }
}

export async function askAboutDelivery(farm: Place, delivery: GivenDelivery): Promise<void> {
  ask(unusualDelivery(delivery, await yearOf(farm)))
}

export async function askAboutLot({ db, seasonId }: Place, lot: GivenLot): Promise<void> {
  const variety = (await listVarieties(db, seasonId)).find(({ id }) => id === lot.varietyId)?.name
  if (variety === undefined) return
  const lines = (await readOrders(db, seasonId)).flatMap((order) => order.lines)
  const ordered = lines.find(({ id }) => id === lot.orderLineId)?.variety ?? null
  ask(unusualLot({ ...lot, variety }, ordered))
}
