/**
 * The book's published and derived rows against the tables that they were read from: T4b (disease and loss), T5b (maturity
 * and digging) and T6a (prices). A row keeps to its cell, in the row's own unit.
 */
import { describe, expect, it } from 'vitest'
import { nematodesPer100cc } from '../../src-shared/agronomy/threat.ts'
import { Book } from '../../src-shared/assumption.ts'
import { starterBook } from '../../src-shared/book/starter.ts'
import { publishedTable } from './read-csv.ts'

const book = new Book(starterBook)
const LB_PER_ACRE_PER_KG_PER_HA = 0.892179

function cell(file: string, column: string, starts: string): Record<string, string> {
  const found = publishedTable(file).filter((row) => row[column]?.startsWith(starts))
  if (found.length !== 1) throw new Error(`${found.length} rows of ${file} start with ${starts}`)
  return found[0] as Record<string, string>
}

const disease = (starts: string) => cell('T4b_disease_loss_relations.csv', 'relation', starts)
const digging = (starts: string) => String(cell('T5b_maturity_digging_harvest.csv', 'item', starts).value)
/** "300-500" → [300, 500] */
const ends = (text: string) => text.split(/-(?=\d)/).map((part) => Number(/[\d.]+/.exec(part)?.[0]))

describe('T4b', () => {
  it('runner, full defoliation: the straight line of 2.8 % for 10 points is the low end of the most loss', () => {
    const { high_or_point: high, read } = disease('leaf spot defoliation -> yield loss, runner')
    expect(read).toBe('stored copy')
    expect(book.row('canopy/most loss').low).toBeCloseTo(Number(high) / 10, 12)
  })

  it('stem rot: 0.9–2.9 % for a locus in 100 ft, the middle in use', () => {
    const { low, high_or_point: high } = disease('stem rot loci')
    const row = book.row('threat/southern stem rot/slope')
    expect(row.low).toBeCloseTo(Number(low) / 100, 12)
    expect(row.high).toBeCloseTo(Number(high) / 100, 12)
    expect(row.value).toBeCloseTo((Number(low) + Number(high)) / 200, 12)
  })

  it('root-knot: 10 % lost at 44–83 in 500 cc; the thresholds are these in 100 cc, rounded', () => {
    const { low, high_or_point: high } = disease('root-knot M. arenaria 10% loss at')
    expect(book.number('threat/root-knot nematode/count from/moderate')).toBe(
      Math.round(nematodesPer100cc(Number(low), 500)),
    )
    expect(book.number('threat/root-knot nematode/count from/high')).toBe(
      Math.round(nematodesPer100cc(Number(high), 500)),
    )
    expect(book.number('threat/root-knot nematode/loss/moderate')).toBe(0.1)
  })
})

describe('T5b', () => {
  it('growth regulator: none counted; at most the 731 kg/ha of on-farm trials', () => {
    const row = book.row('vine/growth regulator/yield gain')
    const [, most = 0] = ends(digging('response, on-farm'))
    expect(row.value).toBe(0)
    expect(row.high).toBe(Math.round(most * LB_PER_ACRE_PER_KG_PER_HA))
  })
})

it('T6a: the price in use is the first contract offer of 2025', () => {
  const { low, high, read } = cell('T6a_cost_ranges.csv', 'item', 'contract price FL first offer')
  expect(read).toBe('stored copy')
  expect([book.number('price/peanuts'), book.number('price/peanuts')]).toEqual([Number(low), Number(high)])
})
