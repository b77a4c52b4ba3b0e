/**
 * Entries that may be right and are more often a slip of typing: told before they are saved, saved when confirmed, and
 * told again wherever the record is shown. Pure. Limits are ours: common practice, no source.
 */
import type { Place, Problem } from './problem.ts'
import { showAcres, showDay, showPercent, showWhole } from './show.ts'

/** [lb/acre] Planters are set to 60 to 200; beyond this a figure is in the wrong box. */
const mostSeedPerAcre = 400
/** [lb/acre] Below this a field has no stand. */
const leastSeedPerAcre = 20
/** [share] of a field by which planted acres, as a monitor counts them, may be more without a word. */
const monitorNoise = 0.02
/** [share] of a load. Peanuts are combined below it, and a buying point takes none that wet. */
const mostMoisture = 0.3
/** [share] of a load. */
const mostForeign = 0.3
/** [lb] A truck with its load stays below this on any road. */
const mostOnTruck = 100_000
/** [share] by which pounds and packs × pack weight may differ without a word. */
const scaleNoise = 0.02

const slip = (what: string, where: Place): Problem => ({
  code: 'unusual',
  what,
  where,
  remedy: 'Correct it, or save it as it is.',
})

/** Days of a season's seed and planting: from September of the year before to August of its year. */
function isOutOfYear(day: string, season: number): boolean {
  return day < `${season - 1}-09-01` || day > `${season}-08-31`
}

export interface PlantedLot {
  name: string
  variety: string
  /** ISO day on which it came; null for seed that was here before. */
  arrivedOn: string | null
  /** [pack] and [lb] planted from it, and [lb] of one pack; null where not known. */
  packs: number | null
  pounds: number
  packPounds: number | null
}

export interface UnusualPlanting {
  field: string
  /** ISO day; null while it is not known. */
  plantedOn: string | null
  acres: number | null
  pounds: number
  lots: readonly PlantedLot[]
}

/**
 * @param season crop year
 * @param planned varieties that the plan in hand has on the field; empty where it has none
 */
export function unusualPlanting(planting: UnusualPlanting, season: number, planned: readonly string[]): Problem[] {
  const { field, plantedOn, acres, pounds, lots } = planting
  const at = (column: string): Place => ({ table: 'planting', column, name: field })
  const problems: Problem[] = []
  if (plantedOn !== null && isOutOfYear(plantedOn, season)) {
    const what = `${field} is planted on ${showDay(plantedOn)}, outside season ${season} (September to August).`
    problems.push(slip(what, at('plantedOn')))
  }
  for (const { name, arrivedOn } of lots) {
    if (plantedOn === null || arrivedOn === null || plantedOn >= arrivedOn) continue
    problems.push(
      slip(
        `${field} is planted on ${showDay(plantedOn)}, before lot ${name} came on ${showDay(arrivedOn)}.`,
        at('plantedOn'),
      ),
    )
  }
  if (acres !== null && acres > 0 && pounds / acres > mostSeedPerAcre) {
    problems.push(slip(`${field} takes ${showWhole(pounds / acres)} lb of seed an acre.`, at('pounds')))
  }
  if (acres !== null && acres > 0 && pounds > 0 && pounds / acres < leastSeedPerAcre) {
    problems.push(slip(`${field} takes only ${showWhole(pounds / acres)} lb of seed an acre.`, at('pounds')))
  }
  for (const lot of lots) {
    if (lot.packs === null || lot.packPounds === null || lot.pounds === 0) continue
    const packed = lot.packs * lot.packPounds
    // The last pack may be planted in part.
    if (Math.abs(lot.pounds - packed) <= lot.packPounds + scaleNoise * packed) continue
    const what = `${showWhole(lot.pounds)} lb of lot ${lot.name} are planted in ${field}; its packs make ${showWhole(packed)} lb.`
    problems.push(slip(what, at('pounds')))
  }
  const others = lots.filter(({ variety }) => planned.length > 0 && !planned.includes(variety))
  for (const { name, variety } of others) {
    problems.push(slip(`Lot ${name} is ${variety}; the plan has ${planned.join(' and ')} on ${field}.`, at('lots')))
  }
  return problems
}

/** @param planted [acre] of the field by all entries, this one included */
export function unusualAcres(field: { name: string; acres: number }, planted: number): Problem[] {
  if (planted <= field.acres * (1 + monitorNoise)) return []
  const what = `${showAcres(planted)} acres of ${field.name} are planted with this entry; the field has ${showAcres(field.acres)}.`
  return [slip(what, { table: 'planting', column: 'acres', name: field.name })]
}

export function unusualDelivery(
  { arrivedOn, scalePounds }: { arrivedOn: string; scalePounds: number | null },
  season: number,
): Problem[] {
  const problems: Problem[] = []
  if (isOutOfYear(arrivedOn, season)) {
    const what = `The load came on ${showDay(arrivedOn)}, outside season ${season} (September to August).`
    problems.push(slip(what, { table: 'delivery', column: 'arrivedOn' }))
  }
  if (scalePounds !== null && scalePounds > mostOnTruck) {
    const what = `The load weighs ${showWhole(scalePounds)} lb, more than a truck carries.`
    problems.push(slip(what, { table: 'delivery', column: 'scalePounds' }))
  }
  return problems
}

/** @param ordered variety of the order line that it came for; null where nobody ordered it */
export function unusualLot(
  lot: { lotNumber: string; variety: string; pounds: number; packs: number | null; packPounds: number | null },
  ordered: string | null,
): Problem[] {
  const at = (column: string): Place => ({ table: 'lot', column, name: lot.lotNumber })
  const problems: Problem[] = []
  if (lot.pounds > mostOnTruck) {
    problems.push(
      slip(`Lot ${lot.lotNumber} weighs ${showWhole(lot.pounds)} lb, more than a truck carries.`, at('pounds')),
    )
  }
  const packed = (lot.packs ?? 0) * (lot.packPounds ?? 0)
  if (packed > 0 && lot.pounds > 0 && Math.abs(lot.pounds - packed) > scaleNoise * packed) {
    const what = `Lot ${lot.lotNumber} weighs ${showWhole(lot.pounds)} lb; its packs make ${showWhole(packed)} lb.`
    problems.push(slip(what, at('pounds')))
  }
  if (ordered !== null && ordered !== lot.variety) {
    problems.push(slip(`Lot ${lot.lotNumber} is ${lot.variety}; the line ordered ${ordered}.`, at('varietyId')))
  }
  return problems
}

/** Loads of a season's harvest: from July of its year to February of the next. @param netPounds of peanuts */
export function unusualLoad(
  load: { hauledOn: string; grossPounds: number; netPounds: number; moisture?: number; foreignMaterial?: number },
  season: number,
): string[] {
  const { hauledOn, grossPounds, netPounds, moisture = 0, foreignMaterial = 0 } = load
  const says: string[] = []
  if (hauledOn < `${season}-07-01` || hauledOn > `${season + 1}-02-29`) {
    says.push(`Hauled on ${showDay(hauledOn)}, outside the harvest of season ${season} (July to February).`)
  }
  const pounds = Math.max(grossPounds, netPounds)
  if (pounds > mostOnTruck) says.push(`${showWhole(pounds)} lb is more than a truck carries.`)
  if (moisture > mostMoisture) says.push(`${showPercent(moisture)} moisture is more than a buying point takes.`)
  if (foreignMaterial > mostForeign)
    says.push(`${showPercent(foreignMaterial)} foreign material is more than a combine leaves.`)
  return says
}
