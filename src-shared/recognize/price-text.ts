/** Prices, packs and price breaks as dealers write them: “$47.25 over 400 bags”, “2000# tote”, “400+: 46.10”. Pure. */
import { clean, readFigure, type Decimals } from './figure.ts'
import { unitOf } from './units.ts'

/** What a price is for. */
export type PricePer = 'lb' | 'pack' | null

export interface PriceRead {
  /** [$] for one of `per`; of a hundredweight or a ton it is brought to a pound. */
  amount: number
  per: PricePer
  /** [lb] where the price names its pack: $47.25/50 lb bag. */
  packPounds: number | null
  /** Where it names only what kind: $1,840/tote. */
  kind?: 'bag' | 'tote'
}

export interface TierRead extends PriceRead {
  /** Where the break begins, in packs or pounds. */
  from: { count: number; in: 'pack' | 'lb' } | null
}

const money = String.raw`\$?\s*(?:\d{1,3}(?:,\d{3})+|\d+)?(?:[.,]\d+)?\s*(?:¢|cents?|cts?)?`
const packWord = String.raw`(?:bags?|bgs?|packs?|units?|totes?|bx|boxes|sacks?|pkgs?)`

/** One price with what it is for: $0.945/lb · 94.5¢ · 47.25 per bag · $94.50 cwt · 48.00/50# */
export function readPrice(cell: string, decimals: Decimals = 'point'): PriceRead | null {
  const text = cell
    .trim()
    .replace(/^(?:only|just|net|early|reg(?:ular)?|list|cash|now)\b:?\s*/i, '')
    .replace(/\s*[([](?:treated|trt|untreated|untrt|raw|net|est|approx)[^)\]]*[)\]]\s*$/i, '')
    .replace(/^usd\s*/i, '$')
  const sized = new RegExp(
    String.raw`^(.*?\d)\s*(?:/|per\s|a\s)\s*([\d,]+)\s*(?:-\s*)?(?:lbs?|#|pounds?)\.?\s*${packWord}?\s*$`,
    'i',
  ).exec(text)
  if (sized) {
    const [amount, pounds] = [
      readFigure(sized[1] as string, decimals),
      Number((sized[2] as string).replaceAll(',', '')),
    ]
    if (amount && (amount.unit === null || amount.unit.dimension === 'money') && pounds > 0) {
      const dollars = amount.value * (amount.unit?.factor ?? 1)
      if (pounds === 100) return { amount: clean(dollars / 100), per: 'lb', packPounds: null }
      return { amount: clean(dollars), per: 'pack', packPounds: pounds }
    }
  }
  // What it is packed in, behind the price: “96¢/lb in 50s”, “$104/cwt, 50 lb bags”.
  const behind = new RegExp(
    String.raw`^(.*\d.*?[a-z#])(?:,\s*|\s+in\s+)(\d[\d,]*)\s*(?:-\s*)?(?:(?:lbs?|#|pounds?)\.?\s*(?:${packWord})?|'?s|${packWord})\.?$`,
    'i',
  ).exec(text)
  if (behind) {
    const price = readPrice(behind[1] as string, decimals)
    const pounds = Number((behind[2] as string).replaceAll(',', ''))
    if (price && pounds >= 20) return { ...price, packPounds: pounds }
  }
  const figure = readFigure(text, decimals)
  if (!figure || figure.value < 0) return null
  const { unit, value } = figure
  const kind = /totes?$/i.test(figure.unitText)
    ? 'tote'
    : /(?:bags?|bgs?|sacks?)$/i.test(figure.unitText)
      ? 'bag'
      : null
  const read = (amount: number, per: PricePer): PriceRead => ({
    amount: clean(amount),
    per,
    packPounds: null,
    ...(kind === null ? {} : { kind }),
  })
  if (unit === null) return read(value, null)
  if (unit.dimension === 'money') return read(value * unit.factor, null)
  if (unit.dimension === 'money/mass') return read(value * unit.factor, 'lb')
  if (unit.dimension === 'money/pack') return read(value * unit.factor, 'pack')
  if (unit.dimension === 'mass') return read(value / unit.factor, 'lb')
  if (unit.dimension === 'pack' || unit.dimension === 'each') return read(value, 'pack')
  return null
}

/** What a heading says that its prices are for: “$/lb”, “Price per bag”, “Cwt price”. */
export function perOfHeading(heading: string): { per: PricePer; factor: number; packPounds: number | null } | null {
  const sized = /(?:\/|per\s+|a\s+)\s*([\d,]+)\s*-?\s*(?:lb|#|pound)s?\.?\s*(?:bag|tote|unit|pack)?/i.exec(heading)
  if (sized) {
    const pounds = Number((sized[1] as string).replaceAll(',', ''))
    return pounds === 100
      ? { per: 'lb', factor: 1 / 100, packPounds: null }
      : { per: 'pack', factor: 1, packPounds: pounds }
  }
  const cents = /¢|\bcents?\b|\bc\/lb/i.test(heading) ? 0.01 : 1
  const plain = heading.toLowerCase()
  if (/\bcwt\b|hundred\s*weight|\/\s*100\s*(lb|#)/.test(plain))
    return { per: 'lb', factor: cents / 100, packPounds: null }
  if (/(?:\/|per\s|a\s|^|[($¢]\s*|\b)(ton)\b/.test(plain)) return { per: 'lb', factor: cents / 2000, packPounds: null }
  if (/(?:\/|\bper\b|\ba\b|[($¢])\s*(lbs?|pounds?|#)|\blb\.? price|price\s*\(?lb|¢|\bcents\b/.test(plain))
    return { per: 'lb', factor: cents, packPounds: null }
  if (
    new RegExp(
      String.raw`(?:/|\bper\b|\ba\b|\beach\b|\bea\b|[($])\s*(?:${packWord}|\bea\b|\beach\b)|\bbag price|\bper unit|\beach\b|\bunit price`,
    ).test(plain)
  )
    return { per: 'pack', factor: 1, packPounds: null }
  return null
}

export interface PackRead {
  /** [lb] null: the cell says only what kind it is. */
  pounds: number | null
  kind: 'bag' | 'tote' | 'bulk' | null
}

/** 50 lb bag · 50# · 2,000# tote · bag · 1 ton tote · bulk. Bags are of 50 lb, totes of 2,000 where nothing else is said: common practice, no source. */
export function readPack(cell: string): PackRead | null {
  const text = cell.trim().toLowerCase().replace(/[-–]/g, ' ').replace(/\(s\)/g, '')
  const kind = /tote|super ?sack|mini ?bulk|bulk bag|big bag|probox|seed ?box|pro ?box/.test(text)
    ? 'tote'
    : /\bbulk\b/.test(text)
      ? 'bulk'
      : /bag|bg\b|sack/.test(text)
        ? 'bag'
        : null
  const figure = /([\d,.]+)\s*(lbs?|#|pounds?|tons?|kg|cwt)?/.exec(text)
  if (figure) {
    const amount = Number((figure[1] as string).replaceAll(',', '').replace(/\.$/, ''))
    const unit = figure[2] === undefined ? { dimension: 'mass', factor: 1 } : unitOf(figure[2])
    if (Number.isFinite(amount) && amount > 0 && unit?.dimension === 'mass') {
      const pounds = clean(amount * unit.factor)
      // “1 bag”, “1 tote”: a count of packs, not a weight.
      if (figure[2] === undefined && amount <= 4 && kind !== null) return { pounds: null, kind }
      const rest = text.replace(figure[0], '').replace(/[^a-z]/g, '')
      if (
        rest !== '' &&
        kind === null &&
        !/^(paper|poly|unit|pack|per|each|ea|net|wt|weight|treated|mini|pkg|box)+$/.test(rest)
      )
        return null
      return { pounds, kind }
    }
    return null
  }
  if (kind !== null) return { pounds: null, kind }
  // Each of what the item says.
  return /^(?:ea|each|unit|units|pk|pack|pkg)\.?$/.test(text) ? { pounds: null, kind: null } : null
}

/** A pack named within an item: “BRINDLE TRTD 50LB”, “Cobbler tote”. */
export function packIn(text: string): PackRead | null {
  const found =
    /(?:[\d,]+\s*(?:lbs?|#|pounds?)\b[\s.-]*)?\b(?:bags?|totes?|bulk)\b|[\d,]+\s*(?:lbs?\b|#|pounds?\b)/i.exec(text)
  return found ? readPack(found[0]) : null
}

/** The day in a heading such as “Booked by 12/31” or “Early (until Jan 15)”, as it stands; null where there is none. */
export function dayIn(heading: string): string | null {
  const found =
    /\b(?:by|until|till?|thru|through|before|after|from|starting)\s+(\d{1,2}[/-]\d{1,2}(?:[/-]\d{2,4})?|[a-z]{3,9}\.?\s+\d{1,2}(?:,?\s+\d{4})?|\d{1,2}\s+[a-z]{3,9}(?:\s+\d{4})?)\s*[)\]]?\s*$/i.exec(
      heading,
    )
  const day = found?.[1] ?? null
  return day !== null && /[a-z]/i.test(day) && !/jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec/i.test(day)
    ? null
    : day
}

const business =
  /\b(?:seeds?|supply|store|company|co|inc|llc|exchange|co-?op|cooperative|store|feed|elevator|services?|farm center|warehouse|merchants?|dealers?|agri?|peanut co)\b\.?/i

/** Whether a name has a word of a business in it, as a dealer’s does. */
export const isBusiness = (name: string) => business.test(name)

const packAtEnd =
  /(?:^|[\s,(-]+)((?:[\d,]+\s*(?:lbs?|#|pounds?)\s*)?(?:bags?|totes?|bulk)|[\d,]+\s*(?:lbs?|#|pounds?))\.?\)?\s*$/i

/** A heading that is a dealer, alone or with a pack: “Burrow Bend”, “Burrow Bend Tote”. */
export function dealerHeading(heading: string): { dealer: string; pack: PackRead | null } {
  const plain = heading.replace(/[([]?\s*\$[^)\]]*[)\]]?\s*$/, '').replace(/\s*\b(?:price|cost|each)\s*$/i, '')
  const found = packAtEnd.exec(plain)
  // “Bag (50#)”: kind and weight of one pack.
  const kind = /^(?:bags?|totes?|sacks?)$/i.exec(plain.slice(0, found?.index ?? 0).trim())
  if (found && kind) return { dealer: '', pack: readPack(`${found[1]} ${kind[0]}`) }
  return found
    ? { dealer: plain.slice(0, found.index).trim(), pack: readPack(found[1] as string) }
    : { dealer: heading.trim(), pack: null }
}

/** How many packs, or which weight: 1,400 bags · 70,000 lb · 35 tons · unlimited (null). */
export function readPacks(
  cell: string,
  decimals: Decimals = 'point',
): { count: number; in: 'pack' | 'lb' | null } | 'any' | null {
  const text = cell
    .trim()
    .replace(
      /^(?:up to|only|max(?:imum)?\.?|about|~|limit(?:ed)?(?: to)?|at least|min(?:imum)?\.?|over|above|from|after|>=?|≥)\s*:?\s*/i,
      '',
    )
    .replace(/\s*[-–,;(]\s*(?:limited|tight|short|while (?:it|they) last|call|firm|est)[a-z ]*\)?$/i, '')
    .replace(/\s*(?:left|only|avail(?:able)?|on hand|max|min(?:imum)?|limit|total|or more|and up|up|plus|\+)\.?$/i, '')
  if (
    /^(?:unlimited|plenty|any|as needed|no limit|open|yes|all you want|ample|good|call(?: us)?|ask|limited|tight|short)$/i.test(
      text,
    )
  )
    return 'any'
  if (/^(?:none|sold out|out|0|no)$/i.test(text)) return { count: 0, in: 'pack' }
  const figure = readFigure(text, decimals)
  if (!figure || figure.value < 0) return null
  const { unit, value } = figure
  if (unit === null) return { count: value, in: null }
  if (unit.dimension === 'pack' || unit.dimension === 'each') return { count: value, in: 'pack' }
  if (unit.dimension === 'mass') return { count: clean(value * unit.factor), in: 'lb' }
  return null
}

/** “46 bags of 50#”, “1 tote (2000 lb)” → [lb] in all of them; null where it is no such text. */
export function packsOfPounds(text: string): number | null {
  const found = new RegExp(
    String.raw`^([\d,]+)\s*${packWord}\s*(?:of|x|×|@|at|[-–,(])?\s*([\d,]+)\s*(?:lbs?|#|pounds?)\.?\s*(?:each|ea)?\)?$`,
    'i',
  ).exec(text.trim())
  if (!found) return null
  const [count, each] = [found[1], found[2]].map((part) => Number((part as string).replaceAll(',', '')))
  return clean((count ?? 0) * (each ?? 0))
}

const size = String.raw`(\d{1,3}(?:,\d{3})+|\d+)\s*(${packWord}|lbs?|#|pounds?|tons?)?`
const fromForms = [
  new RegExp(
    String.raw`(?:over|above|more than|after|>|>=|≥|from|at|@|min(?:imum)?\.?(?: of)?|for|if|when|on|buy|starting at|order(?:s)?(?: of| over)?)\s*(?:\$)?${size}\s*(?:\+|or more|and up|& up|and over|up|plus|and above|or over)?`,
    'i',
  ),
  new RegExp(
    String.raw`${size}\s*(?:\+|or more|and up|& up|and over|up\b|plus|and above|or over|minimum|min\b)\s*(${packWord}|lbs?|#)?`,
    'i',
  ),
  new RegExp(
    String.raw`(\d{1,3}(?:,\d{3})+|\d+)\s*(?:-|–|to)\s*(?:\d{1,3}(?:,\d{3})+|\d+)\s*(${packWord}|lbs?|#)?`,
    'i',
  ),
]

/** From how many on, as it stands in a heading or a cell; null where nothing of the kind is said. */
export function readFrom(text: string): { count: number; in: 'pack' | 'lb'; found: string } | null {
  for (const form of fromForms) {
    const match = form.exec(text)
    if (!match) continue
    const unit = match[2] ?? match[3] ?? ''
    const count = Number((match[1] as string).replaceAll(',', ''))
    const mass = /^ton/i.test(unit) ? 2000 : /lb|#|pound/i.test(unit) ? 1 : 0
    return { count: mass > 0 ? count * mass : count, in: mass > 0 ? 'lb' : 'pack', found: match[0] }
  }
  return null
}

/** Every price of a cell with where it begins: “$48; $47.25 over 400 bags; 46.10 @ 800+”. Null where part of it is not read. */
export function readTiers(cell: string, decimals: Decimals = 'point'): TierRead[] | null {
  const parts = cell
    .trim()
    .split(/\s*(?:;|\n|\||,\s+(?=\$|from|over|\d+\s*\+|\d+\s*(?:-|–|to)\s*\d)|\s\/\s|\bthen\b|\band(?=\s+\$))\s*/i)
    .filter((part) => part !== '')
  const tiers: TierRead[] = []
  for (const part of parts) {
    const tier = readTier(part, decimals)
    if (tier === null) return null
    tiers.push(tier)
  }
  return tiers.length === 0 ? null : tiers
}

function readTier(part: string, decimals: Decimals): TierRead | null {
  const plain = readPrice(part, decimals)
  if (plain) return { ...plain, from: null }
  const from = readFrom(part)
  if (!from) return null
  const rest = part
    .replace(from.found, ' ')
    .replace(/^[\s:=@,()-]+|[\s:=@,()-]+$/g, '')
    .replace(new RegExp(String.raw`^${packWord}\s*[:=@,-]*\s*`, 'i'), '')
  // “from” may have taken the price itself where the two stand in another order.
  const price = new RegExp(String.raw`^${money}`).test(rest) ? readPrice(rest, decimals) : null
  return price ? { ...price, from: { count: from.count, in: from.in } } : null
}
