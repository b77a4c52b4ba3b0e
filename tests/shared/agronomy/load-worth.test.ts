/** What a load came to, and its working in words that a person can follow with a pencil. Loads and rates are constructed. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  loadTerms,
  loadWorking,
  loadWorth,
  takesNothingOff,
  type LoadTerms,
} from '../../../src-shared/agronomy/load-worth.ts'
import { Book } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { harvestByField } from '../../../src-shared/harvest-total.ts'
import { loadAskew, type Load, type LoadRow } from '../../../src-shared/load.ts'

const terms2016 = loadTerms(new Book(starterBook), 2016)
const load: Load = {
  field: 'Hill',
  hauledOn: '2016-10-02',
  grossPounds: 25_000,
  tarePounds: 15_000,
  foreignMaterial: 0.04,
  looseKernels: 0.03,
  moisture: 0.08,
  soundMatureKernels: 0.69,
  soundSplits: 0.04,
  otherKernels: 0.03,
  damagedKernels: 0.02,
  priceBasis: 'loan schedule',
}

const step = (given: Load, terms: LoadTerms, label: string) =>
  loadWorking(given, terms).find((each) => each.label === label)?.working

describe('terms', () => {
  test('a year with a published rate has it and says where from; later ones say what to fill in', () => {
    expect(terms2016).toMatchObject({ marketType: 'runner', dollarsPerPercent: 4.81, freeMoisture: 0.07 })
    expect(terms2016.rateFrom).toContain('published: USDA release 2016')
    const terms2025 = loadTerms(new Book(starterBook), 2025)
    expect(terms2025.dollarsPerPercent).toBeNull()
    expect(terms2025.rateFrom).toMatch(/fill in.*\$353\.90 a ton for the average runner grade/)
    expect(loadTerms(new Book(starterBook), 2031).rateFrom).toMatch(/for 2031: fill in [^$]*$/)
  })

  test('nothing is taken off until the farm says what', () => {
    expect(takesNothingOff(terms2016)).toBe(true)
    const own = {
      key: 'load/discount/damaged kernels',
      value: 2,
      unit: '',
      source: '',
      sourceKind: 'the farm' as const,
    }
    expect(takesNothingOff(loadTerms(new Book(starterBook, [own]), 2016))).toBe(false)
  })
})

describe('worth', () => {
  const discounted: LoadTerms = {
    ...terms2016,
    looseDollarsPerPound: 0.07,
    otherDollarsPerPercent: 1.4,
    discounts: {
      foreignMaterial: { free: 0.03, dollarsPerPercent: 1 },
      soundSplits: { free: 0.02, dollarsPerPercent: 0.8 },
      damagedKernels: { free: 0.01, dollarsPerPercent: 3.4 },
    },
  }

  test('by the schedule: weight, base, what is added, what is taken off, loose kernels by the pound', () => {
    // 10,000 lb − 400 − 300 − 100 lb of water above 7 % = 9,200 lb. (69 + 4) × 4.81 = 351.13; + 3 × 1.40 = 4.20;
    // − 1 × 1.00 − 2 × 0.80 − 1 × 3.40 = 349.33 a ton; 4.6 t × 349.33 = 1,606.92 + 300 × 0.07 = 21.00.
    expect(loadWorth(load, discounted)).toMatchObject({
      cents: 162_792,
      from: 'loan schedule',
      net: { netPounds: 9200 },
    })
    expect(loadWorking(load, discounted).map(({ label }) => label)).toEqual([
      'On the scale',
      'Foreign material',
      'Loose kernels',
      'Moisture above 7 %',
      'Net',
      'Sound kernels',
      'Other kernels',
      'Foreign material',
      'Excess splits',
      'Damage',
      'Loose kernels',
      'Value',
    ])
    expect(step(load, discounted, 'Sound kernels')).toBe('(69 % + 4 %) × $4.81 a percent = $351.13 a ton')
    expect(step(load, discounted, 'Excess splits')).toBe('− 2 % above 2 % × $0.8 a percent = $1.60 a ton')
    expect(step(load, discounted, 'Value')).toBe('4.600 tons × $349.33 + $21.00 = $1,627.92')
  })

  test('what was paid goes before any price; a price goes with its basis; without either it says what is lacking', () => {
    const { priceBasis: _, ...plain } = load
    expect(loadWorth({ ...load, paidCents: 123_456 }, discounted)).toMatchObject({ cents: 123_456, from: 'settlement' })
    expect(loadWorth({ ...plain, centsPerTon: 50_000 }, terms2016)).toMatchObject({
      cents: 230_000,
      from: 'market',
      band: null,
    })
    const contract = { ...plain, priceBasis: 'contract' as const, centsPerTon: 50_000 }
    expect(loadWorth(contract, terms2016)).toMatchObject({ cents: 230_000, from: 'contract' })
    expect(step(contract, terms2016, 'Value')).toBe('4.600 tons × $500.00 a ton, by contract = $2,300.00')
    expect(loadWorth(plain, terms2016)).toMatchObject({
      cents: null,
      from: null,
      lacks: expect.stringContaining('a price'),
    })
    expect(loadWorth({ ...contract, centsPerTon: undefined } as Load, terms2016).cents).toBeNull()
    const { soundMatureKernels: _grade, ...ungraded } = load
    expect(loadWorth(ungraded, terms2016).lacks).toContain('sound mature')
    expect(loadWorth(load, loadTerms(new Book(starterBook), 2027)).lacks).toContain('loan rate of 2027')
  })

  test('the band is about the price that the grade made', () => {
    const { band } = loadWorth(load, terms2016)
    expect(band?.low).toBeCloseTo(35_113 * (1 - 1.96 * 0.024), 6)
    expect(band?.high).toBeCloseTo(35_113 * (1 + 1.96 * 0.024), 6)
    // Of a settlement: what was paid a ton.
    expect(loadWorth({ ...load, paidCents: 460_000 }, terms2016).band?.high).toBeCloseTo(
      100_000 * (1 + 1.96 * 0.024),
      6,
    )
  })

  test('no load is worth less than nothing, and none weighs more than it did on the scale', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(share, share, share, share, share, (fm, lsk, moisture, sound, damage) => {
        const given = {
          ...load,
          foreignMaterial: fm,
          looseKernels: lsk,
          moisture,
          soundMatureKernels: sound,
          damagedKernels: damage,
        }
        const { net, cents } = loadWorth(given, discounted)
        expect(cents).toBeGreaterThanOrEqual(0)
        expect(net.netPounds).toBeGreaterThanOrEqual(0)
        expect(net.netPounds).toBeLessThanOrEqual(10_000)
      }),
    )
  })
})

test.each([
  [{ grossPounds: 10, tarePounds: 11 }, 'tarePounds'],
  [{ grossPounds: 10, foreignMaterial: 0.7, looseKernels: 0.4 }, 'foreignMaterial'],
  [{ grossPounds: 10, soundMatureKernels: 0.8, hulls: 0.22 }, 'soundMatureKernels'],
])('%j cannot be true together', (given, path) => {
  expect(loadAskew(given)?.path).toBe(path)
})

test('a grade of 101 % is rounding', () => {
  expect(loadAskew({ grossPounds: 10, soundMatureKernels: 0.79, hulls: 0.22 })).toBeNull()
})

test('by field: tons an acre of what was planted, or of the field where nothing is written down', () => {
  const ground = (fieldId: number, plantedAcres: number) => ({
    fieldId,
    field: `F${fieldId}`,
    acres: 50,
    plantedAcres,
    varieties: [],
  })
  const hauled = (fieldId: number, netPounds: number, valueCents: number | null) =>
    ({ fieldId, net: { netPounds }, valueCents }) as LoadRow
  const loads = [hauled(1, 60_000, 100), hauled(1, 20_000, null), hauled(2, 100_000, 7)]
  expect(harvestByField([ground(1, 20), ground(2, 0), ground(3, 10), ground(4, 0)], loads)).toMatchObject([
    { field: 'F1', loads: 2, tons: 40, acresCounted: 20, tonsPerAcre: 2, valueCents: 100, unvalued: 1 },
    { field: 'F2', loads: 1, tons: 50, acresCounted: 50, tonsPerAcre: 1, valueCents: 7, unvalued: 0 },
    { field: 'F3', loads: 0, tons: 0, valueCents: 0 },
  ])
})

describe('the working, when less is known', () => {
  const bare: Load = { field: 'Hill', hauledOn: '2016-10-02', grossPounds: 10_000, tarePounds: 0 }

  test('nothing graded, nothing paid: the weight, and what is lacking', () => {
    expect(loadWorking(bare, terms2016)).toEqual([
      { label: 'On the scale', working: '10,000 lb − 0 lb tare = 10,000 lb' },
      { label: 'Net', working: '10,000 lb = 5.000 tons' },
      {
        label: 'Value',
        working: 'none yet: it needs a price a ton, what was paid, or the loan schedule under “Sold by”',
      },
    ])
  })

  test('paid by a settlement', () => {
    expect(step({ ...bare, paidCents: 123_456 }, terms2016, 'Value')).toBe('$1,234.56, as it was paid')
    // Not graded: there is no grade about which its price could lie.
    expect(loadWorth({ ...bare, paidCents: 123_456 }, terms2016).band).toBeNull()
  })

  test('by the schedule without loose kernels or foreign material: only what there is', () => {
    const graded: Load = { ...bare, soundMatureKernels: 0.7, priceBasis: 'loan schedule' }
    // 70 × 4.81 = 336.70 a ton on 5 tons.
    expect(loadWorking(graded, terms2016).map(({ label }) => label)).toEqual([
      'On the scale',
      'Net',
      'Sound kernels',
      'Value',
    ])
    expect(step(graded, terms2016, 'Value')).toBe('5.000 tons × $336.70 = $1,683.50')
    expect(step({ ...graded, looseKernels: 0.02 }, { ...terms2016, looseDollarsPerPound: 0 }, 'Value')).toBe(
      '4.900 tons × $336.70 = $1,649.83',
    )
  })

  test('a market type that the book does not know counts as runner', () => {
    const row = { key: 'load/market type', value: 'round', unit: '', source: '', sourceKind: 'the farm' as const }
    expect(loadTerms(new Book(starterBook, [row]), 2016).marketType).toBe('runner')
  })
})
