/** The house book asked for what it does not have: a fault of the starter set, named by its key. */
import { expect, it } from 'vitest'
import { Book, rangeOf } from '../../src-shared/assumption.ts'
import { starterBook } from '../../src-shared/book/starter.ts'
import { lotsFor, type RateBlock } from '../../src-shared/rates.ts'

const book = new Book(starterBook)

it('a row that is not there, and a word where a number is meant', () => {
  expect(() => book.row('no/such row')).toThrow('The book has no row no/such row.')
  expect(() => book.number('load/market type')).toThrow("The book's row load/market type is not a number.")
  expect(book.numberOr('no/such row', 7)).toBe(7)
})

it('a value outside its own ends widens them', () => {
  expect(rangeOf({ value: 5 })).toEqual({ low: 5, usual: 5, high: 5 })
  expect(rangeOf({ value: 5, low: 6, high: 8 })).toEqual({ low: 5, usual: 5, high: 8 })
})

it('a block is planted with the lots placed there, else with any on hand', () => {
  const lot = (name: string, placed: object | null) => ({ lot: name, placed })
  const block = (...lots: object[]) => ({ lots }) as RateBlock
  const [a, b] = [lot('A', null), lot('B', { acres: 10 })]
  expect(lotsFor(block(a, b))).toEqual([b])
  expect(lotsFor(block(a))).toEqual([a])
})
