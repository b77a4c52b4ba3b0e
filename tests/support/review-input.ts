/**
 * Seasons as they may have gone, by a number: ordered, planted, mixed, planted again, left, returned, harvested, billed.
 * Long because it is one season from plan to settlement.
 */
import { quoteTitle } from '../../src-shared/quote.ts'
import { netWeight } from '../../src-shared/agronomy/load-value.ts'
import { costKinds, type CostRow } from '../../src-shared/cost.ts'
import { pressureLevels } from '../../src-shared/field.ts'
import type { LoadRow } from '../../src-shared/load.ts'
import type { OrderSheet } from '../../src-shared/order.ts'
import type { Plan } from '../../src-shared/plan.ts'
import type { RecordLot, RecordPlanting, ReviewInput } from '../../src-shared/review/review-input.ts'
import type { Season } from '../../src-shared/season.ts'
import type { SeenRow } from '../../src-shared/seen.ts'
import { randomFrom, type Random } from '../plan/random.ts'
import { smallSeason } from './open-file.ts'

export interface Size {
  fields: number
  lots: number
  loads: number
}

export function randomRecord(seed: number, size: Size = { fields: 5, lots: 6, loads: 12 }): ReviewInput {
  const random = randomFrom(seed)
  const season = seasonOf(random, size.fields)
  const plan = random.chance(0.9) ? planOf(random, season) : null
  const orders = ordersOf(random, season)
  const lots = lotsOf(random, season, orders, size.lots)
  const plantings = plantingsOf(random, season, lots)
  for (const lot of lots) {
    lot.plantedPounds = plantings
      .flatMap((planting) => planting.lots)
      .reduce((sum, { lotId, pounds }) => (lotId === lot.id ? sum + pounds : sum), 0)
  }
  return {
    season,
    planned: plan === null ? null : { plan, from: season },
    orders,
    lots,
    plantings,
    loads: loadsOf(random, season, lots, plantings, size.loads),
    costs: costsOf(random, season),
    seen: seenOf(random, season),
  }
}

function seasonOf(random: Random, count: number): Season {
  const base = smallSeason()
  const fields = Array.from({ length: count }, (_, at) => {
    const field = base.fields[at % base.fields.length]!
    return { ...field, name: `Field ${at + 1}`, acres: random.whole(50, 900) / 10 }
  })
  return { ...base, fields, locks: [], exclusions: [], rules: [] }
}

function planOf(random: Random, season: Season): Plan {
  const blocks = season.fields.map((field) => {
    const poundsPerAcre = random.whole(900, 1500) / 10
    return {
      field: field.name,
      variety: random.pick(season.varieties).name,
      window: 'Usual',
      programme: random.chance(0.5) ? ['In-furrow'] : [],
      acres: field.acres,
      poundsPerAcre,
      pounds: poundsPerAcre * field.acres,
      cashCents: random.whole(0, 500_000),
      lossCents: random.whole(0, 900_000),
      vineCents: 0,
      giveUpCents: 0,
    }
  })
  const needed = (variety: string) =>
    blocks.reduce((sum, block) => (block.variety === variety ? sum + block.pounds : sum), 0)
  const carried = (variety: string) => (variety === 'Cedar' ? 600 : 0)
  const purchases = season.varieties.flatMap(({ name }) => {
    const quotes = season.quotes.filter((quote) => quote.variety === name)
    const quote = random.pick(quotes)
    const packs = Math.max(0, Math.ceil((needed(name) * 1.03 - carried(name)) / quote.packPounds))
    if (packs === 0) return []
    const { dealer, packPounds, packPriceCents } = quote
    const pounds = packs * packPounds
    const cents = packs * packPriceCents
    return [
      {
        quote: quoteTitle(quote),
        dealer,
        variety: name,
        packs,
        packPounds,
        packPriceCents,
        fromPacks: 0,
        pounds,
        cents,
      },
    ]
  })
  const orders = [...new Set(purchases.map(({ dealer }) => dealer))].map((dealer) => {
    const own = purchases.filter((each) => each.dealer === dealer)
    const pounds = own.reduce((sum, each) => sum + each.pounds, 0)
    const feeCents = random.pick([0, 5000])
    const offCents = random.chance(0.5) ? Math.round(pounds * 1.5) : 0
    return {
      dealer,
      pounds,
      feeCents,
      offCents,
      cents: own.reduce((sum, { cents }) => sum + cents, 0) - offCents + feeCents,
    }
  })
  const seed = season.varieties.map(({ name }) => {
    const bought = purchases.reduce((sum, each) => (each.variety === name ? sum + each.pounds : sum), 0)
    const acres = blocks.reduce((sum, block) => (block.variety === name ? sum + block.acres : sum), 0)
    const leftPounds = bought + carried(name) - needed(name)
    return {
      variety: name,
      acres,
      neededPounds: needed(name),
      reservePounds: 0,
      carriedPounds: carried(name),
      boughtPounds: bought,
      leftPounds,
    }
  })
  const seedCents = orders.reduce((sum, { cents }) => sum + cents, 0)
  const none = {
    acresLeftOut: 0,
    measureCents: 0,
    lossCents: 0,
    vineCents: 0,
    giveUpCents: 0,
    leftOutCents: 0,
    movedCents: 0,
  }
  const packs = purchases.reduce((sum, each) => sum + each.packs, 0)
  const acres = blocks.reduce((sum, block) => sum + block.acres, 0)
  const totals = { ...none, acres, packs, seedCents, cashCents: seedCents, costCents: seedCents }
  return { blocks, leftOut: [], purchases, orders, seed, totals }
}

function ordersOf(random: Random, season: Season): OrderSheet[] {
  let id = 0
  return season.dealers.flatMap((dealer, at): OrderSheet[] => {
    if (random.chance(0.1)) return []
    const quotes = season.quotes.filter((quote) => quote.dealer === dealer.name)
    return [
      {
        id: at + 1,
        dealer: dealer.name,
        number: null,
        note: null,
        madeOn: '2027-01-20',
        planId: null,
        terms: { orderFeeCents: dealer.orderFeeCents ?? 0, leastPounds: 0, breaks: dealer.breaks ?? [] },
        depositShare: null,
        lines: quotes.map((quote) => ({
          id: (id += 1),
          quote: quoteTitle(quote),
          quoteId: null,
          variety: quote.variety,
          packs: random.whole(1, 400),
          packPounds: quote.packPounds,
          packPriceCents: quote.packPriceCents,
          terms: {
            packPriceCents: quote.packPriceCents,
            breaks: [],
            returnCredit: random.pick([0, 0.9]),
            seedsPerPound: 650,
            germination: 0.85,
            isTreated: true,
            after: null,
          },
          state: 'confirmed',
          sentOn: null,
          answeredOn: null,
          confirmedPacks: random.chance(0.2) ? random.whole(0, 100) : null,
          confirmedPriceCents: null,
          note: null,
        })),
      },
    ]
  })
}

function lotsOf(random: Random, season: Season, orders: readonly OrderSheet[], count: number): RecordLot[] {
  return Array.from({ length: count }, (_, at): RecordLot => {
    const order = orders.length > 0 && random.chance(0.8) ? random.pick(orders) : null
    const line = order === null ? null : random.pick(order.lines)
    const dealer = order?.dealer ?? (random.chance(0.5) ? random.pick(season.dealers).name : null)
    const pounds = random.whole(0, 200) * 50
    const state = random.pick(['received', 'received', 'received', 'received', 'refused'] as const)
    return {
      id: at + 1,
      name: `L${at + 1}`,
      variety: line?.variety ?? random.pick(season.varieties).name,
      dealer,
      orderLineId: line?.id ?? null,
      state,
      packs: random.chance(0.7) ? pounds / 50 : null,
      pounds,
      returnedPounds: random.chance(0.3) ? Math.floor(pounds / 10) : 0,
      leftPounds: null,
      plantedPounds: 0,
      germination: random.whole(70, 95) / 100,
      germinationFrom: random.pick(['a test', 'the tag', 'the variety']),
      seedsCounted: random.whole(560, 740),
      countFrom: random.pick(['own count', 'the tag', 'the variety']),
      promised: { germination: 0.85, seedsPerPound: 650, isTreated: true },
      isTreated: true,
      isCarried: dealer === null,
    }
  })
}

function plantingsOf(random: Random, season: Season, lots: readonly RecordLot[]): RecordPlanting[] {
  const here = lots.filter(({ state }) => state === 'received')
  let id = 0
  return season.fields.flatMap((field): RecordPlanting[] => {
    if (here.length === 0 || random.chance(0.1)) return []
    const times = random.pick([1, 1, 1, 2])
    return Array.from({ length: times }, (_, at): RecordPlanting => {
      const own = [...new Set(Array.from({ length: random.pick([1, 1, 2]) }, () => random.pick(here).id))]
      return {
        id: (id += 1),
        field: field.name,
        isFinished: random.chance(0.92),
        plantedOn: random.pick(['2027-04-18', '2027-05-10', null]),
        acres: at === 0 ? field.acres : random.whole(1, Math.ceil(field.acres)),
        rowPattern: null,
        seedsPerFoot: random.pick([null, 6, 6.5]),
        lots: own.map((lotId) => ({ lotId, pounds: random.whole(1, 6000) })),
        measures: random.chance(0.5) ? ['In-furrow'] : [],
        counts: random.chance(0.4)
          ? [
              {
                countedOn: '2027-05-30',
                spots: [
                  { feet: 10, plants: random.whole(20, 48) },
                  { feet: 10, plants: random.whole(20, 48) },
                ],
              },
            ]
          : [],
      }
    })
  })
}

function loadsOf(
  random: Random,
  season: Season,
  lots: readonly RecordLot[],
  plantings: readonly RecordPlanting[],
  count: number,
): LoadRow[] {
  return Array.from({ length: count }, (_, at): LoadRow => {
    const field = random.pick(season.fields).name
    const planted = new Set(
      plantings
        .filter((each) => each.field === field)
        .flatMap((each) => each.lots.flatMap(({ lotId }) => lots.find(({ id }) => id === lotId)?.variety ?? [])),
    )
    const grown =
      planted.size === 1 ? [...planted][0]! : random.chance(0.6) && planted.size > 0 ? [...planted][0]! : null
    const grossPounds = random.whole(9000, 24_000)
    const weight = { grossPounds, tarePounds: 0, foreignMaterial: 0.03, looseKernels: 0.02, moisture: 0.09 }
    const valueCents = random.chance(0.95) ? random.whole(100_000, 400_000) : null
    return {
      id: at + 1,
      fieldId: 1,
      field,
      ticket: `T${at + 1}`,
      hauledOn: '2027-10-02',
      grossPounds,
      tarePounds: 0,
      grown,
      net: netWeight(weight, 0.07),
      valueCents,
      valueFrom: valueCents === null ? null : 'settlement',
    } as LoadRow
  })
}

function costsOf(random: Random, season: Season): CostRow[] {
  return Array.from({ length: random.whole(0, 8) }, (_, at): CostRow => {
    const kind = random.pick(costKinds)
    const perAcre = random.chance(0.3)
    return {
      id: at + 1,
      fieldId: null,
      kind,
      says: random.pick(['In-furrow, the bill', 'as agreed', 'hired']),
      field: random.chance(0.4) ? random.pick(season.fields).name : undefined,
      dealer: random.chance(0.5) ? random.pick(season.dealers).name : undefined,
      cents: random.whole(kind === 'other' ? -50_000 : 0, perAcre ? 9000 : 900_000),
      perAcre,
    }
  })
}

function seenOf(random: Random, season: Season): SeenRow[] {
  return Array.from({ length: random.whole(0, 6) }, (_, at): SeenRow => ({
    id: at + 1,
    fieldId: 1,
    field: random.pick(season.fields).name,
    threat: random.pick(season.threats).name,
    level: random.pick(pressureLevels),
    ...(random.chance(0.5) ? { loss: random.whole(0, 30) / 100 } : {}),
  }))
}
