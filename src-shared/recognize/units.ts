/** Units as spreadsheets write them, each with its dimension and what one of it is in ours. Data, and how it is looked up. Pure. */

export type Dimension =
  | 'length'
  | 'area'
  | 'mass'
  | 'mass/area'
  | 'mass/time'
  | 'seeds/mass'
  | 'share'
  | 'time'
  | 'hour'
  | 'speed'
  | 'pack'
  | 'density'
  | 'money'
  | 'money/mass'
  | 'money/pack'
  | 'mass/pack'
  | 'money/area'
  | 'each'
  | 'pH'

export interface Unit {
  dimension: Dimension
  /** One of it in the dimension's own unit: inch, acre, lb, lb/acre, seeds/lb, percent, day, mph, pack, per 100 cc, $, $/lb, $/pack, $/acre. */
  factor: number
}

const KG = 2.2046226218487757
const HA = 2.471053814671653

const lengths: [string, number][] = [
  ['in|ins|inch|inches|"', 1],
  ["ft|foot|feet|'", 12],
  ['cm|centimeters|centimetres', 1 / 2.54],
  ['m|meter|meters', 39.37007874015748],
]
const masses: [string, number][] = [
  ['lb|lbs|pound|pounds|#|#s', 1],
  ['cwt|hundredweight|100lb|100lbs|100#|hundred', 100],
  ['ton|tons|tn|t|st|shortton|2000lb|2000lbs|2000#', 2000],
  ['kg|kilo|kilos', KG],
  ['tonne|tonnes|mt', KG * 1000],
]
const areas: [string, number][] = [
  ['ac|acs|acr|acre|acres|a', 1],
  ['ha|hectare|hectares', HA],
]
const packs = 'bag|bags|bg|bgs|pack|packs|pk|unit|units|tote|totes|box|boxes|sack|sacks|pkg|ea|each'
const dollars: [string, number][] = [
  ['$|usd|dollar|dollars', 1],
  ['¢|c|cent|cents|ct|cts', 0.01],
]

function built(): Map<string, Unit> {
  const units = new Map<string, Unit>()
  const add = (names: string, dimension: Dimension, factor: number) => {
    for (const name of names.split('|')) if (!units.has(name)) units.set(name, { dimension, factor })
  }
  for (const [names, factor] of lengths) add(names, 'length', factor)
  for (const [names, factor] of areas) add(names, 'area', factor)
  for (const [names, factor] of masses) {
    add(names, 'mass', factor)
    for (const name of names.split('|')) {
      for (const [over, size] of areas)
        for (const each of over.split('|')) add(`${name}/${each}`, 'mass/area', factor / size)
      add(
        `seed/${name}|seeds/${name}|sd/${name}|sds/${name}|ct/${name}|count/${name}|kernels/${name}`,
        'seeds/mass',
        1 / factor,
      )
      for (const [money, cents] of dollars)
        for (const each of money.split('|')) add(`${each}/${name}`, 'money/mass', cents / factor)
      add(`/${name}`, 'money/mass', 1 / factor)
    }
  }
  for (const pack of packs.split('|')) {
    for (const [money, cents] of dollars)
      for (const each of money.split('|')) add(`${each}/${pack}`, 'money/pack', cents)
    add(`/${pack}`, 'money/pack', 1)
    for (const [names, factor] of masses)
      for (const name of names.split('|')) add(`${name}/${pack}`, 'mass/pack', factor)
  }
  for (const [over, size] of areas)
    for (const each of over.split('|'))
      for (const [money, cents] of dollars)
        for (const name of money.split('|')) add(`${name}/${each}`, 'money/area', cents / size)
  add(packs, 'pack', 1)
  add('%|pct|percent', 'share', 1)
  add('day|days|d|dap|dae', 'time', 1)
  add('week|weeks|wk|wks', 'time', 7)
  add('row|rows|rw|rws', 'each', 1)
  add('hr|hrs|hour|hours|h', 'hour', 1)
  add('mph|miles/hour', 'speed', 1)
  add('kph|km/h', 'speed', 0.621371192237334)
  add(
    '100cc|100cm3|100ml|/100cc|/100cm3|/100ml|100ccsoil|/100ccsoil|nematodes/100cc|juveniles/100cc|j2/100cc',
    'density',
    1,
  )
  add('500cc|500cm3|/500cc|/500cm3|500ccsoil|/500ccsoil|nematodes/500cc|juveniles/500cc', 'density', 0.2)
  add('250cc|250cm3|/250cc|/250cm3', 'density', 0.4)
  for (const [names, factor] of dollars) add(names, 'money', factor)
  return units
}

const units = built()

/** A unit as it is written, “lbs per acre” or “#/A.” → what it is; null where it is none that is known. */
export function unitOf(text: string): Unit | null {
  const plain = text
    .toLowerCase()
    .replace(/[″”“„]|''/g, '"')
    .replace(/^(in|as)\s+(?=\S)/, '')
    .replace(/\b(per|an?(?=\s+(ac|lb|pound|bag|ton|hundred|foot|ft)))\b/g, '/')
    .replace(/\bhundred\s*weight\b/g, 'cwt')
    .replace(/\bof\b/g, '')
    .replace(/[\s.]+/g, '')
    .replace(/\/+/g, '/')
    .replace(/us\$/, '$')
  return units.get(plain) ?? null
}
