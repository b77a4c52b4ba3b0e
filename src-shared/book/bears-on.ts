/**
 * What a row of the house book bears on in this season: the fields, varieties and threats whose numbers it enters.
 * By the key alone, so that it is quick for any row; a test compares it with the workings of all options.
 */
import { Calculation } from '../agronomy/calculation.ts'
import { groundFor, yearsOutOn } from '../agronomy/crop.ts'
import { isPlantedIn } from '../agronomy/ground.ts'
import { levelsOf } from '../agronomy/levels.ts'
import { contractsFor } from '../agronomy/price.ts'
import type { Context } from '../agronomy/context.ts'
import { lossKeys, shareKey, type ThreatTable } from '../agronomy/threat-table.ts'
import { peanutNematodes, yearsOut, type Field } from '../field.ts'
import { ruleOf } from '../rule.ts'
import type { Variety } from '../variety.ts'

/** Names, in the season's order. All empty: nothing in this season uses the row. */
export interface BearsOn {
  fields: string[]
  varieties: string[]
  threats: string[]
}

const nothing: BearsOn = { fields: [], varieties: [], threats: [] }

/** @param key of any row, in force or not; one that nothing reads bears on nothing */
export function bearsOn(context: Context, key: string): BearsOn {
  return together(context, ofVarieties(context, key), ofGround(context, key))
}

/** Rows that yield goals and rotation read, by field: the keys of the very calculation. Kept as long as the context. */
const groundKeys = new WeakMap<Context, Map<string, Set<string>>>()

/** What a row bears on through the ground: then every variety there. */
function ofGround(context: Context, key: string): BearsOn {
  let keys = groundKeys.get(context)
  if (keys === undefined) {
    keys = new Map(
      context.season.fields.map((field) => {
        const calculation = new Calculation(true)
        groundFor(context, field, calculation)
        // A loss that is nothing is not borne on by its factors.
        const lines = calculation.lines.filter(
          ({ value, rule, terms }) => value !== 0 && !(rule === 'stand factor' && terms[0]?.value === 0),
        )
        return [field.name, new Set(lines.flatMap(({ terms }) => terms.flatMap((term) => term.key ?? [])))]
      }),
    )
    groundKeys.set(context, keys)
  }
  const { threats } = context
  const own = threats.map(({ name }) => name).filter((name) => key.startsWith(`threat/${name}/`))
  const found = everywhere(context, (field) => keys.get(field.name)?.has(key) ?? false)
  return found.fields.length === 0 ? nothing : { ...found, threats: own }
}

function together({ season, threats }: Context, a: BearsOn, b: BearsOn): BearsOn {
  const both = (all: readonly { name: string }[], of: (each: BearsOn) => string[]) =>
    all.map(({ name }) => name).filter((name) => of(a).includes(name) || of(b).includes(name))
  return {
    fields: both(season.fields, ({ fields }) => fields),
    varieties: both(season.varieties, ({ varieties }) => varieties),
    threats: both(threats, (each) => each.threats),
  }
}

/** True of a field that is not two years out of peanut: there the trial's diseases bear on its rotation. */
function isOffTwo(context: Context, field: Field): boolean {
  return yearsOutOn(context, field) !== 2
}

function ofVarieties(context: Context, key: string): BearsOn {
  const [first = ''] = key.split('/')
  switch (first) {
    case 'price':
      return pairs(context, (_, variety) => {
        const contracts = contractsFor(context.season.contracts, variety)
        if (!key.startsWith('price/premium/')) return contracts.length === 0
        return key.endsWith(`/${variety.oilType}`) && contracts.every((contract) => contract.oilType === undefined)
      })
    case 'cost':
    case 'usual':
    case 'date':
    case 'ripening':
    case 'digging':
      return everywhere(context, () => true)
    case 'planting':
    case 'calendar':
      return calendar(context, key)
    case 'rotation':
      return key === 'rotation/trial/pressure' ? everywhere(context, (field) => isOffTwo(context, field)) : nothing
    case 'stand':
      return stand(context, key)
    case 'canopy':
      return canopy(context)
    case 'drop':
      if (key === 'drop/step') {
        return everywhere(context, (field) => context.choosesRate && field.drop === undefined)
      }
      // Where emergence falls, it falls from the house's drop on, also in a field with a drop of its own.
      return everywhere(
        context,
        (field) =>
          key.endsWith(`/${field.rowPattern}`) &&
          (field.drop === undefined || context.emergence[field.rowPattern].fallsPerSeed !== 0),
      )
    case 'emergence':
      return everywhere(context, (field) => key.endsWith('falls per seed') || key.endsWith(`/${field.rowPattern}`))
    case 'reserve':
      return ruleOf(context.season.rules, 'reserve-by-chance')
        ? { ...nothing, varieties: allVarieties(context) }
        : nothing
    // What trials propose is taken or left by a person.
    case 'trial':
      return nothing
    // Where lots are put, what a load is worth, how far a lesson goes: no variety or field of a plan is weighed by it.
    case 'lots':
    case 'load':
    case 'lesson':
      return nothing
    // Of spring: what a thin stand or a lower drop forgoes, and what a lot's tag is held against.
    case 'rate':
      return everywhere(context, () => true)
    case 'replant':
      return everywhere(context, () => true)
    case 'tag':
    case 'germination':
      return { ...nothing, varieties: allVarieties(context) }
    case 'harvest':
      return harvest(context, key)
    case 'rating':
      return ratings(context, key)
    case 'vine':
      return vine(context, key)
    default:
      return threats(context, key)
  }
}

function allVarieties({ season }: Context): string[] {
  return season.varieties.map((variety) => variety.name)
}

/** Fields that fit, with every variety: all of them could be planted there. */
function everywhere(context: Context, fits: (field: Field) => boolean): BearsOn {
  const fields = context.season.fields.filter(fits).map((field) => field.name)
  return { ...nothing, fields, varieties: fields.length > 0 ? allVarieties(context) : [] }
}

function harvest(context: Context, key: string): BearsOn {
  const { machines, rules } = context.season
  const has = (kind: string) => machines.some((machine) => machine.kind === kind)
  if (key === 'harvest/digger hour' || key === 'harvest/combine hour') {
    const kind = key.includes('digger') ? 'digger' : 'combine'
    return has(kind) ? pairs(context, (field, { vine }) => context.vine[vine][field.growth].slowing !== 0) : nothing
  }
  const limited = (['digger', 'combine'] as const).some((kind) => has(kind) && ruleOf(rules, `${kind}-hours`))
  if (key === 'harvest/fit days a week') return limited ? everywhere(context, () => true) : nothing
  if (key === 'harvest/days from digging to combining') {
    return has('combine') && ruleOf(rules, 'combine-hours') ? everywhere(context, () => true) : nothing
  }
  // Drying and hauling come off every ton.
  return everywhere(context, () => true)
}

/** Rows of days: what fits into a week and a season, where machines or the policy limit it. */
function calendar(context: Context, key: string): BearsOn {
  const { machines, rules } = context.season
  const limits = (kind: 'planter' | 'digger' | 'combine') =>
    machines.some((machine) => machine.kind === kind) && ruleOf(rules, `${kind}-hours`) !== undefined
  const bears = {
    'planting/fit days a week': limits('planter'),
    'calendar/last safe digging day': true,
    'calendar/last insurable planting day': ruleOf(rules, 'insured-planting') !== undefined,
  }
  return bears[key as keyof typeof bears] ? everywhere(context, () => true) : nothing
}

function ratings(context: Context, key: string): BearsOn {
  const { hard, threats } = context
  if (key === 'rating/unrated') {
    const lacking = (field: Field, { ratings }: Variety) => {
      const levels = levelsOf(context, field)
      return threats.filter((table, t) => levels[t] !== 'none' && ratings[table.name] === undefined)
    }
    const { fields, varieties } = context.season
    const names = new Set(
      fields.flatMap((field) => varieties.flatMap((each) => lacking(field, each))).map((t) => t.name),
    )
    return {
      ...pairs(context, (field, variety) => lacking(field, variety).length > 0),
      threats: threats.map((table) => table.name).filter((name) => names.has(name)),
    }
  }
  if (hard.nematodes.length === 0) return nothing
  const found = pairs(context, (field) => (peanutNematodes(field) ?? -1) >= hard.nematodeThreshold)
  return { ...found, threats: found.fields.length > 0 ? hard.nematodes : [] }
}

function vine(context: Context, key: string): BearsOn {
  if (key === 'vine/growth regulator/yield gain') {
    return pairs(context, (field, { vine }) => context.vine[vine][field.growth].action.startsWith('growth regulator'))
  }
  const found = pairs(context, (field, variety) => key.startsWith(`vine/${variety.vine}/${field.growth}/`))
  if (!key.endsWith('leaf disease')) return found
  return { ...found, threats: found.fields.length > 0 ? leafThreats(context, found.fields) : [] }
}

function leafThreats(context: Context, fields: readonly string[]): string[] {
  const own = context.season.fields.filter((field) => fields.includes(field.name))
  return context.threats
    .filter((table, t) => table.isLeaf && own.some((field) => levelsOf(context, field)[t] !== 'none'))
    .map((table) => table.name)
}

/** Fields and varieties that meet in at least one pair that fits. */
function pairs(context: Context, fits: (field: Field, variety: Variety) => boolean): BearsOn {
  const { fields, varieties } = context.season
  return {
    ...nothing,
    fields: fields.filter((field) => varieties.some((variety) => fits(field, variety))).map((field) => field.name),
    varieties: varieties.filter((variety) => fields.some((field) => fits(field, variety))).map((each) => each.name),
  }
}

/** The stand's curve holds for rows of its pattern; the rest of the stand's rows for diseases that go by stand. */
function stand(context: Context, key: string): BearsOn {
  if (key === 'stand/variation') return everywhere(context, () => true)
  if (key.startsWith('stand/yield/'))
    return everywhere(context, (field) => key.startsWith(`stand/yield/${field.rowPattern}/`))
  return threats(context, key)
}

/** The canopy's curve holds wherever a disease takes leaves. */
function canopy(context: Context): BearsOn {
  const leafed = (field: Field) => {
    const levels = levelsOf(context, field)
    return context.threats.filter((table, t) => table.takes === 'leaves' && levels[t] !== 'none')
  }
  const found = everywhere(context, (field) => leafed(field).length > 0)
  const names = new Set(context.season.fields.flatMap(leafed).map(({ name }) => name))
  return { ...found, threats: context.threats.map(({ name }) => name).filter((name) => names.has(name)) }
}

/** Rows of threats, and those of ratings and stand that all threats share. */
function threats(context: Context, key: string): BearsOn {
  const hit: BearsOn = { fields: [], varieties: [], threats: [] }
  const [fields, varieties] = [new Set<string>(), new Set<string>()]
  context.threats.forEach((table, t) => {
    const before = fields.size
    let isHit = false
    for (const field of context.season.fields) {
      if (levelsOf(context, field)[t] === 'none' && !isCount(table, key)) continue
      for (const variety of context.season.varieties) {
        if (!usesRow(context, table, t, field, variety, key)) continue
        fields.add(field.name)
        varieties.add(variety.name)
        isHit = true
      }
    }
    if (isHit || fields.size > before) hit.threats.push(table.name)
  })
  hit.fields = context.season.fields.map((field) => field.name).filter((name) => fields.has(name))
  hit.varieties = allVarieties(context).filter((name) => varieties.has(name))
  return hit
}

function isCount(table: ThreatTable, key: string): boolean {
  return key.startsWith(`threat/${table.name}/count from/`)
}

function usesRow(
  context: Context,
  table: ThreatTable,
  t: number,
  field: Field,
  variety: Variety,
  key: string,
): boolean {
  const { book } = context
  const level = levelsOf(context, field)[t] ?? 'none'
  const rating = variety.ratings[table.name] ?? context.hard.unrated
  if (key === shareKey(book.rows, table.name, rating)) return true
  if (key.startsWith('stand/')) return table.perMissingPlant[field.rowPattern] !== 0
  if (!key.startsWith(`threat/${table.name}/`)) return false
  const rest = key.slice(`threat/${table.name}/`.length)
  if (lossKeys(book.rows, table.name, level, table.takes === 'leaves').includes(key)) return true
  if (isCount(table, key)) return field.pressure[table.name] === undefined && peanutNematodes(field) !== undefined
  const years = yearsOut(field.history, context.season.season)
  const last = Math.max(0, table.yearsOut.length - 1)
  const inForce = [
    `rows/${field.rowPattern}`,
    `water/${field.water}`,
    `tillage/${field.tillage}`,
    `per missing plant/${field.rowPattern}`,
    `years out/${Math.min(years ?? context.usual.yearsOut, last)}`,
    ...context.season.windows.filter((window) => isPlantedIn(field, window)).map((window) => `window/${window.kind}`),
  ]
  return inForce.includes(rest)
}
