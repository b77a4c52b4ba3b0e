/**
 * What one load came to: what was paid where that is known, else its price a ton, else the loan schedule of its crop year by
 * the terms of the house book. One arithmetic for the table, its working and the review. Pure.
 */
import type { Book } from '../assumption.ts'
import { loanRates, marketTypes, type MarketType } from '../book/loan-rates.ts'
import type { Load, ValueSource } from '../load.ts'
import { showCents, showNumber, showPercent, showWhole } from '../show.ts'
import { gradingBand, loanCentsPerTon, netWeight, poundsPerTon, valueCents, type NetWeight } from './load-value.ts'

/** So many dollars a ton for each percent above what is free. */
export interface Discount {
  /** [share] */
  free: number
  /** [$/ton for each percent] 0: none is taken. */
  dollarsPerPercent: number
}

export interface LoadTerms {
  cropYear: number
  marketType: MarketType
  /** [share] of water that is not deducted. */
  freeMoisture: number
  /** [$/ton for each percent of sound kernels] null: none is known for the crop year. */
  dollarsPerPercent: number | null
  /** Where the rate is from, or what to fill in. */
  rateFrom: string
  /** [$/lb] paid for loose kernels, [$/ton for each percent] for other kernels. */
  looseDollarsPerPound: number
  otherDollarsPerPercent: number
  discounts: Record<'foreignMaterial' | 'soundSplits' | 'damagedKernels', Discount>
  /** [share, one deviation] of price, by sampling and grading alone. */
  variation: number
}

/** The farm's rate of the book, else the published one of the crop year and type, else none and why. */
function rateOf(book: Book, cropYear: number, type: MarketType): Pick<LoadTerms, 'dollarsPerPercent' | 'rateFrom'> {
  const own = book.number('load/loan rate')
  if (own > 0) return { dollarsPerPercent: own, rateFrom: 'the farm’s own, from the house book' }
  const rates = loanRates.find((each) => each.cropYear === cropYear)
  if (rates?.perPercent) return { dollarsPerPercent: rates.perPercent[type], rateFrom: `published: ${rates.source}` }
  const known = rates
    ? ` Known of it is $${showNumber(rates.average[type], 2)} a ton for the average ${type} grade (${rates.source}).`
    : ''
  const rateFrom = `No loan rate for each percent is known for ${cropYear}: fill in “load/loan rate” in the house book.${known}`
  return { dollarsPerPercent: null, rateFrom }
}

export function loadTerms(book: Book, cropYear: number): LoadTerms {
  const word = book.word('load/market type')
  const marketType = marketTypes.find((each) => each === word) ?? 'runner'
  const discount = (name: string): Discount => ({
    free: book.number(`load/discount/${name}/free`),
    dollarsPerPercent: book.number(`load/discount/${name}`),
  })
  return {
    cropYear,
    marketType,
    freeMoisture: book.number('load/free moisture'),
    ...rateOf(book, cropYear, marketType),
    looseDollarsPerPound: book.number('load/loose kernels'),
    otherDollarsPerPercent: book.number('load/other kernels'),
    discounts: {
      foreignMaterial: discount('foreign material'),
      soundSplits: discount('sound splits'),
      damagedKernels: discount('damaged kernels'),
    },
    variation: book.number('load/grading variation'),
  }
}

/** A step of the working, as it is read. */
export interface WorkStep {
  label: string
  /** With its numbers. */
  working: string
}

export interface LoadWorth {
  net: NetWeight
  /** [cent] null: nothing to reckon it from. */
  cents: number | null
  from: ValueSource
  /** What it needs to have a value; null where it has one. */
  lacks: string | null
  /** [cent/ton] between which its price would grade nineteen times in twenty; null where the grade makes no price. */
  band: { low: number; high: number } | null
}

function netOf(load: Load, { freeMoisture }: Pick<LoadTerms, 'freeMoisture'>): NetWeight {
  const { grossPounds, tarePounds, foreignMaterial = 0, looseKernels = 0, moisture = 0 } = load
  return netWeight({ grossPounds, tarePounds, foreignMaterial, looseKernels, moisture }, freeMoisture)
}

/** [cent/ton] of the schedule, discounts taken; and what was added or taken, step by step. */
function scheduled(
  load: Load,
  terms: LoadTerms,
  dollarsPerPercent: number,
): { centsPerTon: number; steps: WorkStep[] } {
  const { soundMatureKernels = 0, soundSplits = 0, otherKernels = 0 } = load
  const base = loanCentsPerTon({ soundMatureKernels, soundSplits }, dollarsPerPercent)
  const steps: WorkStep[] = [
    {
      label: 'Sound kernels',
      working: `(${percentOf(soundMatureKernels)} + ${percentOf(soundSplits)}) × $${dollarsPerPercent} a percent = ${showCents(base)} a ton`,
    },
  ]
  let centsPerTon = base
  const step = (label: string, share: number, dollars: number, sign: 1 | -1, free = 0) => {
    const over = Math.max(0, share - free)
    if (over === 0 || dollars === 0) return
    const cents = Math.round(over * 100 * dollars * 100)
    centsPerTon += sign * cents
    const beyond = free > 0 ? ` above ${percentOf(free)}` : ''
    steps.push({
      label,
      working: `${sign < 0 ? '− ' : '+ '}${percentOf(over)}${beyond} × $${dollars} a percent = ${showCents(cents)} a ton`,
    })
  }
  step('Other kernels', otherKernels, terms.otherDollarsPerPercent, 1)
  const { foreignMaterial, soundSplits: splits, damagedKernels } = terms.discounts
  step('Foreign material', load.foreignMaterial ?? 0, foreignMaterial.dollarsPerPercent, -1, foreignMaterial.free)
  step('Excess splits', soundSplits, splits.dollarsPerPercent, -1, splits.free)
  step('Damage', load.damagedKernels ?? 0, damagedKernels.dollarsPerPercent, -1, damagedKernels.free)
  return { centsPerTon: Math.max(0, centsPerTon), steps }
}

/** [cent] for the loose kernels themselves, by the loan schedule. */
function looseCents(net: NetWeight, terms: LoadTerms): number {
  return Math.round(net.loosePounds * terms.looseDollarsPerPound * 100)
}

/** @returns 10,000 lb of 2016 runners, 69 % and 4 %, 4 % foreign, 3 % loose, by the schedule → 163,275 cents */
export function loadWorth(load: Load, terms: LoadTerms): LoadWorth {
  const net = netOf(load, terms)
  const by = (cents: number, from: ValueSource, band: LoadWorth['band'] = null): LoadWorth => ({
    net,
    cents,
    from,
    lacks: null,
    band,
  })
  const none = (lacks: string): LoadWorth => ({ net, cents: null, from: null, lacks, band: null })
  if (load.paidCents !== undefined) {
    const isGraded = load.soundMatureKernels !== undefined && net.netPounds > 0
    const perTon = (load.paidCents / net.netPounds) * poundsPerTon
    return by(load.paidCents, 'settlement', isGraded ? gradingBand(perTon, terms.variation) : null)
  }
  if (load.priceBasis !== 'loan schedule') {
    if (load.centsPerTon === undefined)
      return none('a price a ton, what was paid, or the loan schedule under “Sold by”')
    return by(valueCents(net.netPounds, load.centsPerTon), load.priceBasis ?? 'market')
  }
  if (terms.dollarsPerPercent === null) return none(`the loan rate of ${terms.cropYear}, in the house book`)
  if (load.soundMatureKernels === undefined) return none('the grade: percent of sound mature kernels')
  const { centsPerTon } = scheduled(load, terms, terms.dollarsPerPercent)
  const cents = valueCents(net.netPounds, centsPerTon) + looseCents(net, terms)
  return by(cents, 'loan schedule', gradingBand(centsPerTon, terms.variation))
}

const percentOf = (share: number) => showPercent(share, 2)

/** The working of a load as a person follows it: weight first, then price, then value. */
export function loadWorking(load: Load, terms: LoadTerms): WorkStep[] {
  const { net, cents, from, lacks } = loadWorth(load, terms)
  const off = (label: string, share: number | undefined, pounds: number) =>
    share === undefined || pounds === 0
      ? []
      : [{ label, working: `− ${percentOf(share)} of ${showWhole(net.onScale)} lb = ${showWhole(pounds)} lb` }]
  const excess = Math.max(0, (load.moisture ?? 0) - terms.freeMoisture)
  const steps: WorkStep[] = [
    {
      label: 'On the scale',
      working: `${showWhole(load.grossPounds)} lb − ${showWhole(load.tarePounds)} lb tare = ${showWhole(net.onScale)} lb`,
    },
    ...off('Foreign material', load.foreignMaterial, net.foreignPounds),
    ...off('Loose kernels', load.looseKernels, net.loosePounds),
    ...off(`Moisture above ${percentOf(terms.freeMoisture)}`, excess || undefined, net.excessWaterPounds),
    { label: 'Net', working: `${showWhole(net.netPounds)} lb = ${showNumber(net.netPounds / poundsPerTon, 3)} tons` },
  ]
  if (cents === null || from === null) return [...steps, { label: 'Value', working: `none yet: it needs ${lacks}` }]
  const tons = `${showNumber(net.netPounds / poundsPerTon, 3)} tons`
  if (from === 'settlement') {
    return [...steps, { label: 'Value', working: `${showCents(cents)}, as it was paid` }]
  }
  if (from !== 'loan schedule' || terms.dollarsPerPercent === null) {
    return [
      ...steps,
      {
        label: 'Value',
        working: `${tons} × ${showCents(load.centsPerTon ?? 0)} a ton, by ${from} = ${showCents(cents)}`,
      },
    ]
  }
  const schedule = scheduled(load, terms, terms.dollarsPerPercent)
  const loose = looseCents(net, terms)
  return [
    ...steps,
    ...schedule.steps,
    ...(loose > 0
      ? [
          {
            label: 'Loose kernels',
            working: `${showWhole(net.loosePounds)} lb × $${terms.looseDollarsPerPound} = ${showCents(loose)}`,
          },
        ]
      : []),
    {
      label: 'Value',
      working: `${tons} × ${showCents(schedule.centsPerTon)}${loose > 0 ? ` + ${showCents(loose)}` : ''} = ${showCents(cents)}`,
    },
  ]
}

/** True where the book takes nothing off for foreign material, splits or damage: then the working says so. */
export function takesNothingOff({ discounts }: LoadTerms): boolean {
  return Object.values(discounts).every(({ dollarsPerPercent }) => dollarsPerPercent === 0)
}
