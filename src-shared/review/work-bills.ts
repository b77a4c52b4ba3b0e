/**
 * What measures, replanting, digging, combining and all else cost: as entries of money say, else at the house's rates on
 * the ground that was really planted and harvested. What was not harvested was not dug.
 */
import { contextOf } from '../agronomy/context.ts'
import { hoursPerAcre } from '../agronomy/harvest.ts'
import { bookTerm, line, term } from '../agronomy/working.ts'
import type { CostKind, CostRow } from '../cost.ts'
import { showAcres } from '../show.ts'
import { billOf, nowhere, placeOfPart, plainLine, productLine, type Bill, type CostPart } from './bill.ts'
import { entryCents } from './entry-cents.ts'
import type { FieldGround, Ground, GroundPart } from './ground.ts'
import type { ReviewInput } from './review-input.ts'

const partOf: Partial<Record<CostKind, CostPart>> = {
  measure: 'measures',
  replanting: 'replanting',
  digging: 'digging',
  combining: 'combining',
  other: 'other',
}

export interface Work {
  bills: Bill[]
  /** What could not be counted, and why, in sentences. */
  notes: string[]
}

/** Bills of everything but seed; what comes to nothing is left out. */
export function workOf(record: ReviewInput, ground: Ground): Work {
  const notes: string[] = []
  const bills = record.costs.flatMap((entry): Bill[] => {
    const part = partOf[entry.kind]
    return part === undefined ? [] : [entryBill(entry, part, ground)]
  })
  bills.push(...measures(record, ground, notes), ...replanting(record, ground), ...harvest(record, ground, notes))
  return { bills: bills.filter(({ cents }) => cents !== 0), notes }
}

const byAcres = (parts: readonly GroundPart[]) => parts.map((part) => ({ ...placeOfPart(part), weight: part.acres }))

function entryBill(entry: CostRow, part: CostPart, ground: Ground): Bill {
  const own = entry.field === undefined ? null : (ground.byField.get(entry.field) ?? null)
  const acres = entry.field === undefined ? ground.acres : (own?.acres ?? 0)
  const cents = entryCents(entry, acres)
  const lines = entry.perAcre
    ? [
        productLine(`entry/${entry.id}`, entry.says, cents, [
          term('planted', acres, 'acre'),
          term('as written down', entry.cents / 100, '$/acre'),
        ]),
      ]
    : [plainLine(`entry/${entry.id}`, entry.says, cents)]
  const parts = entry.field === undefined ? ground.parts : (own?.parts ?? [])
  const bill = { part, says: entry.says, from: 'written down' as const, cents, sharedBy: 'acres' as const, lines }
  return billOf(bill, byAcres(parts), { ...nowhere, field: entry.field ?? null })
}

/** Entries that stand in place of the house's rate on a field: the field's own, or the whole farm's. */
function inPlace(record: ReviewInput, kind: CostKind, field: string): CostRow[] {
  return record.costs.filter((entry) => entry.kind === kind && (entry.field === undefined || entry.field === field))
}

/** An entry stands in place of the measure that it names; one that names none is counted beside them. */
export function namesMeasure({ says }: Pick<CostRow, 'says'>, measure: string): boolean {
  return says.toLowerCase().includes(measure.toLowerCase())
}

function measures(record: ReviewInput, ground: Ground, notes: string[]): Bill[] {
  const { season, costs } = record
  for (const { kind, says } of costs) {
    if (kind === 'measure' && !season.measures.some(({ name }) => namesMeasure({ says }, name))) {
      notes.push(`“${says}” names no measure of the list, so it is counted beside those written down at planting.`)
    }
  }
  return ground.fields.flatMap(({ field, parts, plantings }): Bill[] => {
    const bills = season.measures.flatMap((measure): Bill[] => {
      const with_ = plantings.filter(({ measures: names }) => names.includes(measure.name)).map(({ id }) => id)
      if (with_.length === 0) return []
      if (inPlace(record, 'measure', field.name).some((entry) => namesMeasure(entry, measure.name))) return []
      const own = parts.filter(({ plantingId }) => with_.includes(plantingId))
      const acres = own.reduce((sum, part) => sum + part.acres, 0)
      const cents = Math.round(acres * measure.centsPerAcre)
      const price = term(measure.name, measure.centsPerAcre / 100, '$/acre')
      const says = `${measure.name} on ${field.name}`
      const line = productLine(`measure/${field.name}/${measure.name}`, says, cents, [
        term('planted with it', acres, 'acre'),
        measure.source === undefined ? price : { ...price, source: measure.source },
      ])
      const bill = { part: 'measures' as const, says, from: 'the house’s rate' as const, cents, lines: [line] }
      return [billOf({ ...bill, sharedBy: 'acres' }, byAcres(own))]
    })
    return bills
  })
}

function replanting(record: ReviewInput, ground: Ground): Bill[] {
  const { book } = contextOf(record.season)
  return ground.fields.flatMap(({ field, parts, againAcres }): Bill[] => {
    if (againAcres === 0 || inPlace(record, 'replanting', field.name).length > 0) return []
    const cents = Math.round(againAcres * book.number('replant/work') * 100)
    const says = `Planting ${showAcres(againAcres)} acres of ${field.name} again`
    const terms = [term('planted again', againAcres, 'acre'), bookTerm(book, 'replant/work', 'one more pass')]
    const lines = [productLine(`replanting/${field.name}`, says, cents, terms)]
    const bill = { part: 'replanting' as const, says, from: 'the house’s rate' as const, cents, lines }
    return [billOf({ ...bill, sharedBy: 'acres' }, byAcres(parts))]
  })
}

const kinds = [
  { kind: 'digging', machine: 'digger' },
  { kind: 'combining', machine: 'combine' },
] as const

function harvest(record: ReviewInput, ground: Ground, notes: string[]): Bill[] {
  const harvested = new Set(record.loads.map(({ field }) => field))
  const bare = [...harvested].filter((field) => !ground.byField.has(field))
  if (bare.length > 0) {
    const [have, their] = bare.length === 1 ? ['has', 'its'] : ['have', 'their']
    const says = `${bare.sort().join(', ')} ${have} loads but no finished planting, so ${their} acres and what it cost to dig are not known.`
    notes.push(says)
  }
  return machineBills(record, ground, (field) => harvested.has(field), notes)
}

/**
 * Digging and combining at the house's rate an hour, slowed by the vine, where no entry of money stands in its place.
 * @param counts which fields, by name @param notes what could not be counted is added to them
 */
export function machineBills(
  record: ReviewInput,
  ground: Ground,
  counts: (field: string) => boolean,
  notes: string[],
): Bill[] {
  const context = contextOf(record.season)
  const { machines, varieties } = record.season
  return kinds.flatMap(({ kind, machine }): Bill[] => {
    const open = ground.fields.filter(
      ({ field }) => counts(field.name) && inPlace(record, kind, field.name).length === 0,
    )
    if (open.length > 0 && !machines.some((each) => each.kind === machine)) {
      notes.push(`The farm lists no ${machine} and nothing was written down, so ${kind} is not counted.`)
      return []
    }
    const dollars = bookTerm(context.book, `harvest/${machine} hour`, `an hour of the ${machine}`)
    return open.flatMap(({ field, parts }: FieldGround): Bill[] =>
      [...Map.groupBy(parts, ({ variety }) => variety)].map(([name, own]): Bill => {
        const variety = varieties.find((each) => each.name === name)
        const slowing = variety === undefined ? 0 : context.vine[variety.vine][field.growth].slowing
        const hours = hoursPerAcre(machines, machine, slowing)
        const acres = own.reduce((sum, part) => sum + part.acres, 0)
        const cents = Math.round(acres * hours * dollars.value * 100)
        const says = `${kind === 'digging' ? 'Digging' : 'Combining'} ${field.name}`
        const working = line({
          id: `${kind}/${field.name}/${name}`,
          label: `${says}, ${name}`,
          value: cents / 100,
          unit: '$',
          rule: 'product',
          terms: [term('acres', acres, 'acre'), term(`hours of the ${machine}`, hours, 'machine-hour/acre'), dollars],
          note: slowing > 0 ? `A ${variety?.vine} vine on ${field.growth} ground slows it.` : undefined,
        })
        const bill = { part: kind, says, from: 'the house’s rate' as const, cents, lines: [working] }
        return billOf({ ...bill, sharedBy: 'acres' }, byAcres(own))
      }),
    )
  })
}
