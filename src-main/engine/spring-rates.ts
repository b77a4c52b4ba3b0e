/** Rates of the real lots on the fields of the plan in hand, and what each variety has too little or too much of. */
import { contextOf, type Context } from '../../src-shared/agronomy/context.ts'
import { cropAt, plannedDrop } from '../../src-shared/agronomy/block-money.ts'
import { silent } from '../../src-shared/agronomy/calculation.ts'
import { dollarsPerPound } from '../../src-shared/agronomy/price.ts'
import { lotRate, packsToLoad } from '../../src-shared/agronomy/lot-rate.ts'
import { seedsPerAcre } from '../../src-shared/agronomy/seed.ts'
import { onHandOf, type LineReceipt } from '../../src-shared/delivery.ts'
import { poundsOnHand, type LotRow } from '../../src-shared/lot.ts'
import { isFixed, isShort, standing, type OrderSheet } from '../../src-shared/order.ts'
import type { PlanBlock } from '../../src-shared/plan.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import { springDraftName, type BlockLot, type RatesNow } from '../../src-shared/rates.ts'
import type { Season } from '../../src-shared/season.ts'
import { supplyOf, type OpenQuote, type SupplyBlock } from '../../src-shared/supply.ts'
import type { WhatIf } from '../../src-shared/what-if.ts'
import { listDrafts, saveDraft } from './drafts.ts'
import type { OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { readLotFields, type StoredRow } from './lot-fields.ts'
import { gather } from './plan/gather.ts'
import { planInHand } from './plans.ts'
import { readPlantings, type PlainPlanting } from './plantings.ts'
import { lotsNow, receiptsNow } from './receiving.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

export async function ratesNow(farm: Place, today: string): Promise<RatesNow> {
  const { db, seasonId } = farm
  const stored = await planInHand(db, seasonId)
  if (!stored?.plan) return { planMadeAt: null, isBeforeOrders: true, blocks: [], varieties: [] }
  const season = await gather(db, seasonId)
  const context = contextOf(season)
  const lots = await lotsNow(farm)
  const plantings = await readPlantings(db, seasonId)
  const placed = await readLotFields(db, seasonId)
  const ids = new Map((await listFields(db, seasonId)).map(({ name, id }) => [name, id]))
  const usable = onHandOf(lots)
  const varietyOf = new Map(lots.map(({ id, variety }) => [id, variety]))
  const blocks = stored.plan.blocks.flatMap((block) => {
    const planted = plantedAcres(plantings, block, varietyOf)
    const own = usable.filter(({ variety }) => variety === block.variety)
    const here = placed.filter(({ field, pounds }) => field === block.field && pounds > 0)
    const made = blockOf(context, block, ids.get(block.field), own, planted, here)
    return made === null ? [] : [made]
  })
  const receipts = await receiptsNow(farm, lots)
  const lines = receipts.flatMap((each) => each.receipts)
  const returnBy = new Map(
    receipts.flatMap(({ order }) =>
      order.lines.flatMap(({ id, terms }) => (terms.returnBy === undefined ? [] : [[id, terms.returnBy] as const])),
    ),
  )
  const quotes = openQuotes(
    season,
    receipts.map(({ order }) => order),
    lines,
  )
  const isBeforeOrders = lines.length === 0 && lots.every(({ deliveryId }) => deliveryId === null)
  const names = [...new Set([...blocks.map(({ variety }) => variety), ...usable.map(({ variety }) => variety)])].sort()
  const varieties = names.map((variety) =>
    supplyOf({
      variety,
      blocks: blocks.filter((block) => block.variety === variety),
      lots: usable
        .filter((lot) => lot.variety === variety)
        .map((lot) => ({ id: lot.id, name: lot.name, pounds: poundsOnHand(lot), germination: lot.germination })),
      lines: lines.filter((line) => line.variety === variety),
      returnBy,
      quotes: quotes.filter((quote) => quote.variety === variety),
      book: context.book,
      centsPerPound: centsPerPoundOf(context, variety),
      today,
      isBeforeOrders,
    }),
  )
  return {
    planMadeAt: stored.madeAt,
    isBeforeOrders,
    blocks: blocks.map(({ emergence: _e, earlyStand: _s, yieldLb: _y, ...b }) => b),
    varieties,
  }
}

/** [cent/lb] What a pound of the variety leaves; 0 of one that is gone. */
function centsPerPoundOf(context: Context, name: string): number {
  const variety = context.season.varieties.find((each) => each.name === name)
  return variety === undefined ? 0 : dollarsPerPound(context.book, context.price, variety, silent) * 100
}

/** Quotes with what a dealer may still have of them: none where a line was refused or cut, or its rest will not come. */
function openQuotes(season: Season, orders: readonly OrderSheet[], lines: readonly LineReceipt[]): OpenQuote[] {
  const taken = new Map<string, number>()
  for (const line of orders.flatMap((order) => order.lines)) {
    taken.set(line.quote, (taken.get(line.quote) ?? 0) + standing(line).packs)
  }
  const cut = orders.flatMap((order) => order.lines.filter((line) => isFixed(line) && isShort(line)))
  const stopped = lines.filter(({ promise }) => promise?.says === 'not coming')
  const ended = new Set([...cut, ...stopped].map(({ quote }) => quote))
  return season.quotes.map((quote): OpenQuote => {
    const title = quoteTitle(quote)
    if (ended.has(title)) return { ...quote, title, leftPacks: 0 }
    const { availablePacks } = quote
    const leftPacks = availablePacks === undefined ? null : Math.max(0, availablePacks - (taken.get(title) ?? 0))
    return { ...quote, title, leftPacks }
  })
}

/** [acre] of finished entries on a field in which lots of this variety were planted. */
function plantedAcres(
  plantings: readonly PlainPlanting[],
  { field, variety }: PlanBlock,
  varietyOf: ReadonlyMap<number, string>,
): number {
  return plantings
    .filter((entry) => entry.isFinished && entry.field === field)
    .filter(({ lots }) => lots.some(({ lotId }) => varietyOf.get(lotId) === variety))
    .reduce((sum, { acres }) => sum + (acres ?? 0), 0)
}

/** A block of the plan at the rates of the lots on hand; null where its field, variety or window is there no more. */
function blockOf(
  context: Context,
  block: PlanBlock,
  fieldId: number | undefined,
  lots: readonly LotRow[],
  planted: number,
  placed: readonly StoredRow[],
): SupplyBlock | null {
  const { season } = context
  const field = season.fields.find(({ name }) => name === block.field)
  const variety = season.varieties.find(({ name }) => name === block.variety)
  const window = season.windows.find(({ name }) => name === block.window)
  if (field === undefined || variety === undefined || window === undefined || fieldId === undefined) return null
  const { rowPattern, rowSpacingIn } = field
  const emergence = context.emergence[rowPattern]
  const place = { field, variety, window }
  const drop = plannedDrop(context, place, block)
  const left = Math.max(0, block.acres - planted)
  const own = lots.map((lot): BlockLot & { onHand: number } => {
    const seed = { germination: lot.germination, seedsPerPound: lot.seedsCounted }
    const rate = lotRate(drop.stand, seed, emergence, rowSpacingIn)
    const pounds = rate.poundsPerAcre * left
    const packsOf = (load: number) => (lot.packPounds === null ? null : packsToLoad(load, lot.packPounds))
    const here = placed.find(({ lotId }) => lotId === lot.id)
    return {
      lotId: lot.id,
      lot: lot.name,
      ...rate,
      seedsPerAcre: seedsPerAcre(rate.seedsPerFoot, rowSpacingIn),
      pounds,
      packs: packsOf(pounds),
      placed: here === undefined ? null : { acres: here.acres, pounds: here.pounds, packs: packsOf(here.pounds) },
      onHand: poundsOnHand(lot),
    }
  })
  const isPlaced = own.some((lot) => lot.placed !== null)
  const using = own.filter((lot) => !isPlaced || lot.placed !== null)
  const weight = (lot: (typeof own)[number]) => lot.placed?.acres ?? lot.onHand
  const all = using.reduce((sum, lot) => sum + weight(lot), 0)
  const mean = (of: (lot: BlockLot) => number) => using.reduce((sum, lot) => sum + of(lot) * weight(lot), 0) / all
  const seedsPerFoot = all > 0 ? mean((lot) => lot.seedsPerFoot) : drop.seedsPerFoot
  return {
    field: block.field,
    fieldId,
    variety: block.variety,
    window: block.window,
    acres: block.acres,
    plantedAcres: planted,
    rowPattern,
    rowSpacingIn,
    stand: drop.stand,
    dropBy: drop.by,
    plannedSeedsPerFoot: drop.seedsPerFoot,
    plannedPoundsPerAcre: block.poundsPerAcre,
    lots: own.map(({ onHand: _, ...lot }) => lot),
    set: {
      seedsPerFoot,
      seedsPerAcre: seedsPerAcre(seedsPerFoot, rowSpacingIn),
      poundsPerAcre: all > 0 ? mean((lot) => lot.poundsPerAcre) : block.poundsPerAcre,
      from: all > 0 ? (isPlaced ? 'placed lots' : 'lots on hand') : 'plan',
      lots: using.map(({ lot }) => lot),
    },
    emergence,
    earlyStand: window.kind === 'early' ? context.hard.earlyStand : 0,
    yieldLb: cropAt(context, place, block.programme, drop.seedsPerFoot).lb,
  }
}

/**
 * A draft that knows what the lots germinate, what will not come and what is in the ground, for the plan to be
 * worked out again. What else the draft says is kept. In the caller's transaction. @returns its id
 */
export async function draftWithLots(farm: Place): Promise<number> {
  const { db, seasonId } = farm
  const lots = await lotsNow(farm)
  const usable = onHandOf(lots)
  const lines = (await receiptsNow(farm, lots)).flatMap((each) => each.receipts)
  const planted = plantedLocks(await readPlantings(db, seasonId), new Map(lots.map((lot) => [lot.id, lot.variety])))
  const whatIfs = [...germinations(usable), ...gonePacks(lines), ...planted]
  if (whatIfs.length === 0) {
    throw new ProblemError([
      {
        code: 'missing',
        what: 'No lot has come and nothing is known to stay away: there is nothing new to plan with.',
        remedy: 'Write down the deliveries first.',
      },
    ])
  }
  const draft = (await listDrafts(db, seasonId)).find(({ name }) => name === springDraftName)
  const settings = draft?.settings ?? { rulesOff: [], whatIfs: [] }
  const isPlanted = (whatIf: WhatIf) =>
    whatIf.kind === 'lock' && planted.some((lock) => lock.kind === 'lock' && lock.field === whatIf.field)
  const kept = settings.whatIfs.filter(
    (each) => each.kind !== 'germination' && each.kind !== 'packs' && !isPlanted(each),
  )
  return saveDraft(db, seasonId, draft?.id, springDraftName, { ...settings, whatIfs: [...kept, ...whatIfs] })
}

/** Of each variety on hand what its lots germinate, weighed by their pounds; below 30 % no plan takes it. */
function germinations(lots: readonly LotRow[]): WhatIf[] {
  const names = [...new Set(lots.map(({ variety }) => variety))].sort()
  return names.flatMap((variety): WhatIf[] => {
    const own = lots.filter((lot) => lot.variety === variety)
    const pounds = own.reduce((sum, lot) => sum + poundsOnHand(lot), 0)
    const germination = own.reduce((sum, lot) => sum + poundsOnHand(lot) * lot.germination, 0) / pounds
    return germination >= 0.3 ? [{ kind: 'germination', variety, germination: Number(germination.toFixed(4)) }] : []
  })
}

/** What is in the ground stays there. A field planted with two varieties is left as the plan may have it. */
function plantedLocks(plantings: readonly PlainPlanting[], varietyOf: ReadonlyMap<number, string>): WhatIf[] {
  const finished = plantings.filter(({ isFinished }) => isFinished)
  return [...Map.groupBy(finished, ({ field }) => field)].sort().flatMap(([field, entries]): WhatIf[] => {
    const varieties = new Set(entries.flatMap(({ lots }) => lots.flatMap(({ lotId }) => varietyOf.get(lotId) ?? [])))
    const [variety] = varieties
    return variety !== undefined && varieties.size === 1 ? [{ kind: 'lock', field, variety }] : []
  })
}

/** Lines of which the rest will not come: as many packs can be had as came. */
function gonePacks(lines: readonly LineReceipt[]): WhatIf[] {
  return lines
    .filter(({ promise, camePounds, pounds }) => promise?.says === 'not coming' && camePounds < pounds)
    .map(({ quote, camePounds, packPounds }) => ({
      kind: 'packs' as const,
      quote,
      availablePacks: Math.floor(camePounds / packPounds + 1e-9),
    }))
}
