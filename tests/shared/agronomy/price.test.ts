/** Which price a variety's crop has: by contract, market type, oil type, premium and grade. Check values by hand. */
import { describe, expect, test } from 'vitest'
import { Calculation } from '../../../src-shared/agronomy/calculation.ts'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { contractsFor, dollarsPerPound, dollarsPerTon } from '../../../src-shared/agronomy/price.ts'
import { bearsOn } from '../../../src-shared/book/bears-on.ts'
import type { Contract } from '../../../src-shared/contract.ts'
import type { Season } from '../../../src-shared/season.ts'
import type { Variety } from '../../../src-shared/variety.ts'
import { rollSeason } from '../../../src-shared/roll.ts'
import { demoFarm } from '../demo-farm.ts'

const contract = (name: string, more: Partial<Contract>): Contract => ({
  name,
  perTonCents: 50_000,
  premiumCents: 0,
  ...more,
})
const under = (contracts: Contract[]): Season => ({ ...demoFarm(), contracts })
const [first] = demoFarm().varieties as [Variety]
const variety = (more: Partial<Variety>): Variety => ({ ...first, gradeIndex: 1, ...more })

function perTon(contracts: Contract[], of: Partial<Variety>): number {
  const { book, price } = contextOf(under(contracts))
  return dollarsPerTon(book, price, variety(of))
}

describe('the contract that applies', () => {
  const all = [
    contract('any', { perTonCents: 48_000 }),
    contract('runner', { perTonCents: 50_000, marketType: 'runner' }),
    contract('oleic runner', { perTonCents: 52_000, premiumCents: 3000, marketType: 'runner', oilType: 'high oleic' }),
  ]

  test.each([
    ['runner', 'high oleic', 550],
    ['runner', 'normal', 500],
    ['virginia', 'normal', 480],
  ] as const)('%s, %s: the one that names the most of it', (marketType, oilType, dollars) => {
    expect(perTon(all, { marketType, oilType })).toBe(dollars)
  })

  test('without one that suits, the price is that of the book, for every other type', () => {
    const only = [contract('virginia', { marketType: 'virginia', perTonCents: 60_000 })]
    const book = contextOf(demoFarm()).price.perTon
    expect(perTon(only, { marketType: 'runner', oilType: 'normal' })).toBe(book)
    expect(perTon(only, { marketType: 'virginia', oilType: 'normal' })).toBe(600)
  })

  test('limited in tons, all that are alike count by their tons', () => {
    const two = [contract('a', { perTonCents: 56_000, tons: 300 }), contract('b', { perTonCents: 48_000, tons: 100 })]
    expect(perTon(two, { oilType: 'normal' })).toBe(540)
  })

  test('beside one without a limit, the next ton is worth what that one pays', () => {
    const two = [contract('a', { perTonCents: 56_000, tons: 300 }), contract('b', { perTonCents: 48_000 })]
    expect(contractsFor(two, variety({})).map(({ name }) => name)).toEqual(['b'])
    const three = [...two, contract('c', { perTonCents: 47_000, premiumCents: 2000 })]
    expect(contractsFor(three, variety({})).map(({ name }) => name)).toEqual(['c'])
  })

  test('the premium of the book for high oleic is added where the contract names no oil type', () => {
    const premium = {
      ...{ key: 'price/premium/high oleic', value: 40, unit: '$/ton', source: 'test', sourceKind: 'the farm' as const },
    }
    const season = (contracts: Contract[]) => ({
      ...under(contracts),
      assumptions: [...demoFarm().assumptions, premium],
    })
    const paid = (contracts: Contract[], oilType: Variety['oilType']) => {
      const { book, price } = contextOf(season(contracts))
      return dollarsPerTon(book, price, variety({ oilType }))
    }
    expect(paid([contract('any', {})], 'high oleic')).toBe(540)
    expect(paid([contract('any', {})], 'normal')).toBe(500)
    expect(paid([contract('oleic', { oilType: 'high oleic' })], 'high oleic')).toBe(500)
  })
})

test('the working names the contract, its premium, or each of several with its tons', () => {
  const lines = (contracts: Contract[]) => {
    const calculation = new Calculation(true)
    const { book, price } = contextOf(under(contracts))
    dollarsPerPound(book, price, variety({ oilType: 'normal' }), calculation)
    return calculation.lines.map(({ id, formula }) => [id, formula])
  }
  expect(lines([contract('Creek', { premiumCents: 2500 })])[0]).toEqual(['price/base', '500 + 25 = 525 $/ton'])
  const two = [contract('a', { perTonCents: 56_000, tons: 300 }), contract('b', { perTonCents: 48_000, tons: 100 })]
  expect(lines(two)[0]).toEqual(['price/contracts', '(560 × 300 + 480 × 100) / (300 + 100) = 540 $/ton'])
})

test('the price of the book bears on what no contract takes', () => {
  const bears = (contracts: Contract[], key: string) => bearsOn(contextOf(under(contracts)), key).varieties
  const names = (of: (each: Variety) => boolean) =>
    demoFarm()
      .varieties.filter(of)
      .map(({ name }) => name)
  const oleic = [contract('oleic', { oilType: 'high oleic' })]
  expect(names(({ oilType }) => oilType === 'normal').length).toBeGreaterThan(0)
  expect(bears(oleic, 'price/peanuts')).toEqual(names(({ oilType }) => oilType === 'normal'))
  expect(bears(oleic, 'price/premium/high oleic')).toEqual([])
  expect(bears([contract('any', {})], 'price/peanuts')).toEqual([])
  expect(bears([contract('any', {})], 'price/premium/high oleic')).toEqual(
    names(({ oilType }) => oilType === 'high oleic'),
  )
})

test('contracts are over with their season', () => {
  expect(rollSeason(under([contract('a', {})]), new Map(), []).contracts).toEqual([])
})
