/**
 * Yield by years out of peanut against Lamb (USDA-ARS), Southeast Farm Press; Shellman GA, 2001–2015, printed as "roughly"
 * to a hundred pounds (T4a). The book has the index against two years out to three figures.
 */
import { describe, expect, it } from 'vitest'
import { contextOf, expectedYield, rotationIndex } from '../../src-shared/agronomy/context.ts'
import { demoFarm, pick } from '../shared/demo-farm.ts'
import { publishedTable } from './read-csv.ts'

const rows = publishedTable('T4a_rotation_yield_Lamb_2001_2015.csv')
const farm = demoFarm()
const context = contextOf(farm)
const base = pick(farm.fields)
const goal = { irrigated: 5100, dryland: 3300 }

function field(water: 'irrigated' | 'dryland', years: number) {
  const history = [{ season: farm.season - 1 - years, crop: 'peanut' }]
  return { ...base, water, history, yieldGoalLb: goal[water] }
}

describe('T4a', () => {
  it.each(rows)('$years_out_of_peanut years out', (row) => {
    const years = Number(row.years_out_of_peanut)
    // Three figures of the index leave up to 0.0005 × 5,100 = 2.6 lb.
    expect(Math.abs(expectedYield(context, field('irrigated', years)) - Number(row.irrigated_lb_acre))).toBeLessThan(
      2.6,
    )
    expect(Math.abs(expectedYield(context, field('dryland', years)) - Number(row.nonirrigated_lb_acre))).toBeLessThan(
      1.7,
    )
    expect(rotationIndex(context, field('irrigated', years))?.value).toBe(Number(row.irrigated_index_vs_2yr_out))
    expect(rotationIndex(context, field('dryland', years))?.value).toBe(Number(row.nonirrigated_index_vs_2yr_out))
  })

  it('all four rows are there, and a longer rotation never yields less', () => {
    expect(rows).toHaveLength(4)
    for (const water of ['irrigated', 'dryland'] as const) {
      for (let years = 0; years < 8; years++) {
        const [now, longer] = [field(water, years), field(water, years + 1)]
        expect(expectedYield(context, longer)).toBeGreaterThanOrEqual(expectedYield(context, now))
      }
    }
  })

  it('more years than were tried count as the most that were; without history the goal stands', () => {
    expect(expectedYield(context, field('irrigated', 7))).toBe(expectedYield(context, field('irrigated', 3)))
    expect(expectedYield(context, { ...field('irrigated', 0), history: [] })).toBe(5100)
    expect(rotationIndex(context, { ...base, history: [] })).toBeNull()
  })
})
