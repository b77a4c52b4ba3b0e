/** The 4 × 3 vine table: complete, ordered as vines are, and heard where its words are wrong. */
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import { readVine, vineKey, vineNotices } from '../../../src-shared/agronomy/vine.ts'
import { Book, type Assumption } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { growthLevels } from '../../../src-shared/field.ts'
import { vineClasses } from '../../../src-shared/variety.ts'
import { demoFarm, pick } from '../demo-farm.ts'

const table = readVine(new Book(starterBook))
const own = (key: string, value: number | string): Assumption => ({
  key,
  value,
  unit: '',
  source: '',
  sourceKind: 'the farm',
})
const cells = vineClasses.flatMap((vine) => growthLevels.map((growth) => ({ vine, growth, ...table[vine][growth] })))

describe('the starter table', () => {
  it('has 12 cells, each with action, cost, leaf disease, digging loss and slowing', () => {
    expect(cells).toHaveLength(12)
    for (const cell of cells) {
      expect(Number.isFinite(cell.cents)).toBe(true)
      expect(cell.leafSpot).toBeGreaterThan(0)
      expect(cell.digLoss).toBeGreaterThanOrEqual(0)
      expect(cell.digLoss).toBeLessThan(0.25) // 9–22 % of yield was lost in digging with correct settings (Kirk 2018)
      expect(cell.slowing).toBeGreaterThanOrEqual(0)
    }
  })

  it('never gets easier with a larger vine or ranker ground', () => {
    for (const what of ['leafSpot', 'digLoss', 'slowing'] as const) {
      vineClasses.forEach((vine, v) =>
        growthLevels.forEach((growth, g) => {
          const here = table[vine][growth][what]
          const [larger, ranker] = [vineClasses[v + 1], growthLevels[g + 1]]
          if (larger) expect(table[larger][growth][what]).toBeGreaterThanOrEqual(here)
          if (ranker) expect(table[vine][ranker][what]).toBeGreaterThanOrEqual(here)
        }),
      )
    }
  })

  it('pushes small vines on slow ground, holds large ones back and saves by it', () => {
    expect(table.compact.slow.action).toBe('promote')
    expect(table.large.rank.action).toBe('hold back')
    for (const cell of cells) {
      if (cell.action === 'hold back') expect(cell.cents).toBeLessThan(0)
      if (cell.action === 'none') expect(cell.cents).toBe(0)
      if (cell.action === 'promote' || cell.action.startsWith('growth regulator')) expect(cell.cents).toBeGreaterThan(0)
    }
  })

  it('counts no gain for a growth regulator, since trials disagree', () => {
    expect(table['very large'].rank.action).toBe('growth regulator')
    const row = new Book(starterBook).row('vine/growth regulator/yield gain')
    expect([row.value, row.low, row.high]).toEqual([0, 0, 652])
    expect(row.source).toContain('disagree')
  })
})

describe("the farm's own words and figures", () => {
  const farm = demoFarm({ contracts: [] })
  const rank = pick(farm.fields, (field) => field.growth === 'rank')
  const season = { ...farm, fields: [rank] }
  const large = pick(farm.varieties, (variety) => variety.vine === 'very large')
  const built = (...assumptions: Assumption[]) => buildOptions(contextOf({ ...season, assumptions }))

  it('“do not plant” forbids it, with the reason', () => {
    const { options, excluded } = built(own(vineKey('very large', 'rank', 'action'), 'do not plant'))
    expect(options.some((option) => option.variety === large.name)).toBe(false)
    const out = pick(excluded, (each) => each.variety === large.name)
    expect(out.reasons).toContain('The vine table says not to plant a very large vine on rank ground.')
  })

  it('a word that is no action is said, not obeyed', () => {
    const wrong = own(vineKey('compact', 'slow', 'action'), 'water it')
    const notices = vineNotices(new Book(starterBook, [wrong]))
    expect(notices).toHaveLength(1)
    expect(notices[0]).toMatchObject({ code: 'bad-value', where: { path: wrong.key } })
    expect(built(wrong).notices).toEqual(notices)
  })

  const price = [own('price/peanuts', 500), own('harvest/drying and hauling', 0)]
  const cost = (...rows: Assumption[]) => {
    const option = pick(built(...price, ...rows).options, (each) => each.variety === large.name)
    return option.vineCents + option.cashCents
  }
  const gain = (lb: number) => own('vine/growth regulator/yield gain', lb)

  it('a growth regulator is used where it brings more than it costs: 400 lb at 25 c for $34', () => {
    // Its grade is 1.01: a pound brings a hundredth more.
    const worth = 40_000 * 0.25 * large.gradeIndex
    expect(cost() - cost(gain(400))).toBeCloseTo(worth - 3400, 6)
  })

  it('it is left off where it does not pay, unless the house says always', () => {
    const always = own(vineKey('very large', 'rank', 'action'), 'growth regulator always')
    expect(cost(gain(100))).toBeCloseTo(cost(), 6)
    expect(cost(always) - cost()).toBeCloseTo(3400, 6)
  })
})
