/** One row of a dealer’s price list → one quote, or two where an early price stands beside the regular one. Pure. */
import { clean } from './figure.ts'
import { readFrom, perOfHeading, type PackRead, type PricePer, type TierRead } from './price-text.ts'

export interface QuoteParts {
  dealer?: string | undefined
  variety?: string | undefined
  name?: string | undefined
  pack?: PackRead | undefined
  /** As the item itself says. */
  itemPack?: PackRead | undefined
  /** Each with the heading that it stands below. */
  prices: { heading: string; tiers: TierRead[]; as: 'price' | 'early' | 'tier' }[]
  tierFrom?: { count: number; in: 'pack' | 'lb' | null } | undefined
  breaks?: TierRead[] | undefined
  available?: { count: number; in: 'pack' | 'lb' | null } | undefined
  /** By the kind of pack, where columns tell them apart. */
  availableOf?: Partial<Record<NonNullable<PackRead['kind']>, { count: number; in: 'pack' | 'lb' | null }>> | undefined
  least?: { count: number; in: 'pack' | 'lb' | null } | undefined
  earlyBy?: string | undefined
  orderBy?: string | undefined
  returnBy?: string | undefined
  returnCredit?: number | undefined
  /** As it tells two offers apart; absent where it does not. */
  treatment?: string | undefined
  cashDiscount?: string | undefined
  note?: string | undefined
}

export interface PriceSense {
  /** What a price without a unit is for, by the size of all of them. */
  per: 'pack' | 'lb' | 'cwt' | 'ton'
  /** [lb] where a row does not say. */
  packPounds: number | null
  /** What they are for waits for an answer: a price without a unit is left out. */
  isOpen?: boolean
  /** Headings whose own unit makes prices that no seed has: they are read by their size. */
  distrusted?: ReadonlySet<string>
}

/** Bags and totes where a weight is not said. [lb] Common practice, no source. */
export const usualPounds = { bag: 50, tote: 2000, bulk: 2000 } as const

/** [$/lb] what seed peanuts cost: wide enough for any year. */
const usualPrice = [0.4, 1.75] as const
const possiblePrice = [0.2, 4] as const

export const poundsOf = (
  pack: PackRead | undefined,
  sense: Pick<PriceSense, 'packPounds'>,
  prices: QuoteParts['prices'],
): number | null => {
  const named = prices
    .flatMap(({ tiers, heading }) => [
      ...tiers.map(({ packPounds }) => packPounds),
      perOfHeading(heading)?.packPounds ?? null,
    ])
    .find((pounds) => pounds !== null)
  if (pack?.pounds) return pack.pounds
  if (named) return named
  if (pack?.kind) return usualPounds[pack.kind]
  const kind = prices.flatMap(({ tiers }) => tiers.map((tier) => tier.kind)).find((each) => each !== undefined)
  return kind === 'tote' ? usualPounds.tote : (sense.packPounds ?? (kind === undefined ? null : usualPounds[kind]))
}

const divisors = { pack: null, lb: 1, cwt: 100, ton: 2000 } as const

/** Whether a price a pound is none that seed could have. */
export const isImpossible = (dollarsPerPound: number) =>
  dollarsPerPound > 0 && (dollarsPerPound < possiblePrice[0] || dollarsPerPound > possiblePrice[1])

/** What prices without a unit are for: that by which all of them are of a usual size; null where none or several unlike. */
export function perBySize(
  prices: readonly { amount: number; packPounds: number }[],
): { per: PriceSense['per']; isSure: boolean } | null {
  const fits = (per: PriceSense['per'], [low, high]: readonly [number, number]) =>
    prices.every(({ amount, packPounds }) => {
      const pound = amount / (divisors[per] ?? packPounds)
      return pound >= low && pound <= high
    })
  const order = ['pack', 'lb', 'cwt', 'ton'] as const
  const usual = order.filter((per) => fits(per, usualPrice))
  if (usual.length > 0) return { per: usual[0] as PriceSense['per'], isSure: true }
  const possible = order.filter((per) => fits(per, possiblePrice))
  return possible[0] === undefined ? null : { per: possible[0], isSure: possible.length === 1 }
}

export interface QuoteRow {
  values: Record<string, unknown>
  problems: { id: string; what: string }[]
  says: { id: string; what: string }[]
}

/** Nothing says what the price is for, and the table has asked. */
const isWaiting = ({ per }: { per: PricePer }, heading: string, sense: PriceSense) =>
  sense.isOpen === true && per === null && (perOfHeading(heading) === null || sense.distrusted?.has(heading) === true)

/** A price of a row → [cent] a pack. */
function centsOf(
  { amount, per }: { amount: number; per: PricePer },
  heading: string,
  pounds: number,
  sense: PriceSense,
): { cents: number; isRounded: boolean; as: string } {
  const headed = per === null && sense.distrusted?.has(heading) !== true ? perOfHeading(heading) : null
  const unit = per ?? headed?.per ?? null
  const bare = headed ? amount * headed.factor : amount
  const perPound =
    unit === 'lb' ? bare : unit === null && sense.per !== 'pack' ? amount / (divisors[sense.per] ?? 1) : null
  const dollars = perPound === null ? bare : perPound * pounds
  const cents = Math.round(clean(dollars * 100))
  return {
    cents,
    isRounded: Math.abs(cents - dollars * 100) > 1e-6,
    as: perPound === null ? '' : `$${clean(perPound)} a pound × ${pounds} lb`,
  }
}

const packsOf = (amount: { count: number; in: 'pack' | 'lb' | null }, pounds: number, up: boolean) =>
  amount.in === 'lb' ? (up ? Math.ceil : Math.floor)(clean(amount.count / pounds)) : Math.round(amount.count)

export function quoteRows(parts: QuoteParts, sense: PriceSense): QuoteRow[] {
  const problems: QuoteRow['problems'] = []
  const says: QuoteRow['says'] = []
  const isSaid = parts.pack !== undefined && (parts.pack.pounds !== null || parts.pack.kind !== null)
  const pounds = poundsOf(
    isSaid && !(parts.pack?.pounds === null && parts.itemPack?.pounds) ? parts.pack : (parts.itemPack ?? parts.pack),
    sense,
    parts.prices,
  )
  if (pounds === null) problems.push({ id: 'pack', what: 'nothing says how many pounds a pack holds' })
  const of = (as: 'price' | 'early') => parts.prices.filter((price) => price.as === as)
  const rows: QuoteRow[] = []
  const make = (as: 'price' | 'early', kind: string) => {
    const volume = as === 'price' ? parts.prices.filter((price) => price.as === 'tier') : []
    const own = of(as)
    if (own.length + volume.length === 0 || pounds === null) return null
    const [main] = own
    const cents = (tier: TierRead, heading: string) => {
      const read = centsOf(tier, heading, pounds, sense)
      if (read.as !== '')
        says.push({
          id: as === 'early' ? 'earlyPrice' : 'price',
          what: `${read.as} → $${(read.cents / 100).toFixed(2)} a pack`,
        })
      else if (read.isRounded) says.push({ id: 'price', what: `rounded to $${(read.cents / 100).toFixed(2)}` })
      return read.cents
    }
    const all: { from: number; cents: number }[] = []
    const take = (tier: TierRead, heading: string, from: TierRead['from']) =>
      !isWaiting(tier, heading, sense) &&
      all.push({ from: from === null ? 1 : packsOf(from, pounds, true), cents: cents(tier, heading) })
    for (const { heading, tiers } of own) for (const tier of tiers) take(tier, heading, tier.from)
    if (as === 'price') {
      for (const { heading, tiers } of volume) {
        const headed = readFrom(heading)
        const from = headed
          ? { count: headed.count, in: headed.in }
          : parts.tierFrom
            ? { count: parts.tierFrom.count, in: parts.tierFrom.in ?? ('pack' as const) }
            : null
        for (const tier of tiers) {
          const start = tier.from ?? from
          if (start === null) problems.push({ id: 'tier', what: 'nothing says from how many packs this price is' })
          else take(tier, heading, start)
        }
      }
      for (const tier of parts.breaks ?? []) take(tier, main?.heading ?? '', tier.from)
    }
    if (all.length === 0) return null
    const byFrom = new Map<number, number>()
    for (const { from, cents: price } of all) if (!byFrom.has(Math.max(1, from))) byFrom.set(Math.max(1, from), price)
    const steps = [...byFrom].toSorted(([one], [other]) => one - other)
    const [[first, base] = [1, 0], ...later] = steps
    const values: Record<string, unknown> = {
      packPounds: pounds,
      packPriceCents: base,
    }
    if (later.length > 0) values['breaks'] = later.map(([fromPacks, packPriceCents]) => ({ fromPacks, packPriceCents }))
    if (first > 1) values['leastPacks'] = first
    const name = [parts.name, parts.treatment, kind].filter((part) => part !== undefined && part !== '').join(', ')
    if (name !== '') values['name'] = name.slice(0, 80)
    if (parts.dealer !== undefined) values['dealer'] = parts.dealer
    if (parts.variety !== undefined) values['variety'] = parts.variety
    const packKind = parts.pack?.kind ?? (pounds >= 1000 ? 'tote' : 'bag')
    const available = parts.availableOf?.[packKind] ?? parts.available
    if (available) values['availablePacks'] = packsOf(available, pounds, false)
    if (parts.least) values['leastPacks'] = packsOf(parts.least, pounds, true)
    if (parts.returnBy !== undefined) values['returnBy'] = parts.returnBy
    if (parts.returnCredit !== undefined) values['returnCredit'] = parts.returnCredit
    const note = [parts.note, parts.cashDiscount === undefined ? undefined : `Cash discount ${parts.cashDiscount}`]
      .filter((part) => part !== undefined)
      .join('. ')
    if (note !== '') values['note'] = note
    return values
  }
  // An early price is a little less than the regular one; a discount is no price.
  const plausibly = (values: Record<string, unknown> | null, beside: Record<string, unknown> | null) => {
    if (!values || !beside) return values
    const [low, high] = [values['packPriceCents'] as number, beside['packPriceCents'] as number]
    if (low >= 0.6 * high && low <= 1.1 * high) return values
    problems.push({
      id: 'earlyPrice',
      what: `$${(low / 100).toFixed(2)} is no early price beside $${(high / 100).toFixed(2)}`,
    })
    return null
  }
  const regular = make('price', '')
  const isPair = of('early').length > 0
  const early = plausibly(make('early', regular || parts.name === undefined ? 'early order' : ''), regular)
  // One last day beside two prices ends the early one.
  const [earlyBy, orderBy] =
    isPair && parts.earlyBy === undefined ? [parts.orderBy, undefined] : [parts.earlyBy, parts.orderBy]
  if (regular) {
    const by = isPair ? orderBy : (orderBy ?? earlyBy)
    rows.push({ values: { ...regular, ...(by === undefined ? {} : { orderBy: by }) }, problems, says })
  }
  if (early)
    rows.push({
      values: { ...early, ...(earlyBy === undefined ? {} : { orderBy: earlyBy }) },
      problems: regular ? [] : problems,
      says: regular ? [] : says,
    })
  if (rows.length === 0) {
    const values: Record<string, unknown> = {}
    if (parts.dealer !== undefined) values['dealer'] = parts.dealer
    if (parts.variety !== undefined) values['variety'] = parts.variety
    rows.push({ values, problems, says })
  }
  return rows
}
