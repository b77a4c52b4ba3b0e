/**
 * The crop function against published trials: stands (T10, T20), planting dates (T11, T18), leaf spot without sprays (T12,
 * T26), spotted wilt (T27), rotation (T4a, T28) and rotation with sprays (T15). Sources stand in the tables.
 */
import { describe, expect, it } from 'vitest'
import { Calculation, figure, silent } from '../../src-shared/agronomy/calculation.ts'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { cropOf, groundFor, sharesOn, type Growing } from '../../src-shared/agronomy/crop.ts'
import { dateShare } from '../../src-shared/agronomy/planting-date.ts'
import { diseaseInTrial } from '../../src-shared/agronomy/rotation.ts'
import { standShare } from '../../src-shared/agronomy/stand-yield.ts'
import { combineLosses, lossesAfter } from '../../src-shared/agronomy/threat.ts'
import type { Field, PressureLevel, Water } from '../../src-shared/field.ts'
import type { Variety } from '../../src-shared/variety.ts'
import { demoFarm, pick } from '../shared/demo-farm.ts'
import { publishedTable } from './read-csv.ts'

const farm = demoFarm({ rules: [] })
const context = contextOf(farm)
const { book, standCurve, dateCurve } = context

/** A field and variety of the trial: usual throughout, rated alike for everything. */
function place(of: { water?: Water; years?: number; level?: PressureLevel; rating?: number }): Growing {
  const field: Field = {
    ...pick(farm.fields),
    water: of.water ?? 'irrigated',
    rowPattern: 'single',
    tillage: 'conventional',
    growth: 'usual',
    history: [{ season: farm.season - 1 - (of.years ?? 2), crop: 'peanut' }],
    pressure: Object.fromEntries(farm.threats.map(({ name }) => [name, of.level ?? 'moderate'])),
    nematodesPer100cc: undefined,
  }
  const variety: Variety = {
    ...pick(farm.varieties),
    vine: 'medium',
    yieldIndex: 1,
    daysToMaturity: 140,
    ratings: Object.fromEntries(farm.threats.map(({ name }) => [name, of.rating ?? 5])),
  }
  return { field, variety, window: 'usual', planted: `${farm.season}-05-10`, stand: 4 }
}

const usualLeft = context.threats.map(({ usualControl }) => 1 - usualControl)
const figures = (left: readonly number[]) => left.map((each) => [figure(each, 'left', '×')])
const yieldOf = (at: Growing, left: readonly number[] = usualLeft) =>
  cropOf(context, groundFor(context, at.field), at, figures(left)).lb

describe('T10, T20: stands', () => {
  const share = (rows: 'single' | 'twin', plants: number) => standShare(standCurve, rows, plants)

  it('single rows: 4 plants a foot make 15 % more than 1 (Tubbs & Monfort, art. 1544)', () => {
    const row = pick(publishedTable('T10_stand_response.csv'), ({ unit }) => unit === 'percent')
    expect(100 * (share('single', 4) / share('single', 1) - 1)).toBeCloseTo(Number(row.value), 0)
  })

  it.each(
    publishedTable('T10_stand_response.csv')
      .filter(({ statement }) => statement === 'least stand that holds full yield')
      .map(({ row_pattern, value }) => [row_pattern as 'single' | 'twin', Number(value)] as const),
  )('%s rows are full from %s plants a foot', (rows, plants) => {
    expect(share(rows, plants)).toBe(1)
    expect(share(rows, plants - 0.3)).toBeLessThan(1)
    expect(share(rows, 12)).toBe(1)
  })

  it('twin rows: 12.3 plants/m make 6.6 and 5.8 % more than 7.4 and 9.8 (art. 1245)', () => {
    const feet = (metre: number) => metre / 3.28084
    expect(100 * (share('twin', feet(12.3)) / share('twin', feet(7.4)) - 1)).toBeCloseTo(6.6, 0)
    expect(100 * (share('twin', feet(12.3)) / share('twin', feet(9.8)) - 1)).toBeCloseTo(5.8, 0)
  })

  it('a stand thin from weak seed made 0.80 of a full one: the low curve holds it (NC State, May 2015)', () => {
    const low = standShare(standCurve, 'single', 1.9, 'low') / standShare(standCurve, 'single', 3.3, 'low')
    expect(low).toBeLessThanOrEqual(0.803 + 0.02)
    expect(share('single', 1.9) / share('single', 3.3)).toBeGreaterThan(0.803)
  })

  it('no plant makes no crop', () => {
    expect(share('single', 0)).toBe(0)
    expect(share('twin', 0)).toBe(0)
  })
})

describe('T11, T18: planting dates', () => {
  const share = (day: string, end: 'low' | 'usual' | 'high' = 'usual') =>
    dateShare(book, dateCurve, `2027-${day}`, 140, silent, end)

  it('North Carolina, May 22 and June 8: −22 % measured, inside the range, the usual within 5 points', () => {
    const row = pick(publishedTable('T11_planting_date.csv'), ({ to }) => to === 'June 8')
    const measured = 1 + Number(row.yield_change_percent) / 100
    expect(share('06-08', 'low')).toBeLessThanOrEqual(measured + 0.005)
    expect(share('06-08', 'high')).toBeGreaterThanOrEqual(measured)
    expect(Math.abs(share('06-08') - measured)).toBeLessThan(0.05)
    expect(share('05-22')).toBe(1)
    expect(share('05-05')).toBe(1)
  })

  it('holds the trials in which the date made no difference (north Florida, art. 1298)', () => {
    expect(share('06-08', 'high')).toBe(1)
  })

  it('costs little before the plateau, and more for a variety that takes longer', () => {
    expect(share('04-10')).toBeGreaterThan(0.96)
    expect(dateShare(book, dateCurve, '2027-05-30', 155, silent)).toBeLessThan(share('05-30'))
  })
})

describe('T12, T26: leaf spot without sprays', () => {
  const leafLoss = (level: PressureLevel, rating: number, left = 1, years = 2) => {
    const at = place({ rating, years })
    const names = ['early leaf spot', 'late leaf spot']
    const field = { ...at.field, pressure: { 'late leaf spot': level } }
    const shares = sharesOn(context, groundFor(context, field), { ...at, field }, silent)
    const leaves = context.threats.map(({ name }) => (names.includes(name) ? left : 0))
    return combineLosses(lossesAfter(context.threats, context.canopy, shares, leaves))
  }

  it('a susceptible variety under severe pressure loses the published 37–50 %', () => {
    for (const rating of [7, 8, 9]) {
      expect(leafLoss('severe', rating)).toBeGreaterThanOrEqual(0.37)
      expect(leafLoss('severe', rating)).toBeLessThanOrEqual(0.5)
    }
  })

  it('a variety rated 3 under severe pressure is no longer safe without sprays: above 30 %', () => {
    expect(leafLoss('severe', 3)).toBeGreaterThan(0.3)
  })

  it('three Georgia runners lost 29 % unsprayed: between high pressure at ratings 3 and 7 (art. 1078)', () => {
    expect(leafLoss('high', 3)).toBeLessThan(0.29)
    expect(leafLoss('high', 7)).toBeGreaterThan(0.29)
  })

  it('half of a full program costs next to nothing at moderate pressure (13 of 14 trials, art. 1168)', () => {
    expect(leafLoss('moderate', 5, 1 - 0.7) - leafLoss('moderate', 5, 1 - 0.88)).toBeLessThan(0.02)
  })

  it('full defoliation costs at the least the 28 % of the straight line and at the most 55 %', () => {
    expect(context.canopy.most).toEqual({ low: 0.28, usual: 0.45, high: 0.55 })
  })

  it('a fungicide pays on a susceptible variety under severe pressure on any ground', () => {
    for (const years of [0, 1, 2, 3]) {
      for (const water of ['irrigated', 'dryland'] as const) {
        const at = place({ years, water, level: 'severe', rating: 8 })
        const saved =
          yieldOf(at, usualLeft) -
          yieldOf(
            at,
            context.threats.map(() => 1),
          )
        // 112 $/acre at 25 c a pound.
        expect(saved, `${years} ${water}`).toBeGreaterThan(112 / 0.25)
      }
    }
  })
})

describe('T27: spotted wilt', () => {
  it('a resistant variety cuts the loss by 30–75 % at any planting date', () => {
    for (const window of ['early', 'usual', 'late'] as const) {
      for (const level of ['moderate', 'high', 'severe'] as const) {
        const wilt = (rating: number) => {
          const at = { ...place({ level, rating }), window }
          return sharesOn(context, groundFor(context, at.field), at, silent)[3] as number
        }
        const cut = 1 - wilt(4) / wilt(9)
        expect(cut).toBeGreaterThanOrEqual(0.3)
        expect(cut).toBeLessThanOrEqual(0.75)
      }
    }
  })

  it('is most before May, T13', () => {
    const wilt = (window: Growing['window']) =>
      sharesOn(context, groundFor(context, place({}).field), { ...place({}), window }, silent)[3] as number
    expect(wilt('early')).toBeGreaterThan(wilt('late'))
    expect(wilt('late')).toBeGreaterThan(wilt('usual'))
  })
})

describe('T4a, T28: rotation', () => {
  const rows = publishedTable('T4a_rotation_yield_Lamb_2001_2015.csv')

  it.each(rows)(
    '$years_out_of_peanut years out: rotation and its diseases together make the published yield',
    (row) => {
      const years = Number(row.years_out_of_peanut)
      for (const [water, key] of [
        ['irrigated', 'irrigated_index_vs_2yr_out'],
        ['dryland', 'nonirrigated_index_vs_2yr_out'],
      ] as const) {
        const left = (out: number) => 1 - diseaseInTrial(book, context.threats, context.canopy, water, out)
        const { rotation } = groundFor(context, place({ water, years }).field)
        expect((rotation * left(years)) / left(2)).toBeCloseTo(Number(row[key]), 9)
        // The same through the whole crop function, under the trial's practices.
        const at = place({ water, years })
        expect(yieldOf(at) / yieldOf(place({ water, years: 2 }))).toBeCloseTo(Number(row[key]), 9)
      }
    },
  )

  it('longer rotation never yields less, and more years than were tried count as the most', () => {
    for (const water of ['irrigated', 'dryland'] as const) {
      for (let years = 0; years < 3; years += 1) {
        expect(yieldOf(place({ water, years: years + 1 }))).toBeGreaterThan(yieldOf(place({ water, years })))
      }
      const { rotation } = groundFor(context, place({ water, years: 7 }).field)
      expect(rotation).toBe(groundFor(context, place({ water, years: 3 }).field).rotation)
    }
  })

  it('the shorter series of the same plots (art. 997) lies within 8 points of the usual, irrigated', () => {
    const published = publishedTable('T28_rotation_yield.csv').filter(
      ({ water, share_of_2_out, years_out_of_peanut, place: where }) =>
        where === 'Shellman GA' && water === 'irrigated' && share_of_2_out !== '' && Number(years_out_of_peanut) < 2,
    )
    expect(published.length).toBeGreaterThan(1)
    for (const row of published) {
      const years = Number(row.years_out_of_peanut)
      const share = yieldOf(place({ years })) / yieldOf(place({ years: 2 }))
      expect(Math.abs(share - Number(row.share_of_2_out))).toBeLessThan(0.08)
    }
  })

  it('resistance is worth more the shorter the rotation, under the usual sprays', () => {
    for (const water of ['irrigated', 'dryland'] as const) {
      for (const level of ['low', 'moderate', 'high'] as const) {
        const worth = (years: number) =>
          yieldOf(place({ water, years, level, rating: 3 })) - yieldOf(place({ water, years, level, rating: 9 }))
        expect(worth(0), `${water} ${level}`).toBeGreaterThan(worth(1))
        expect(worth(1), `${water} ${level}`).toBeGreaterThan(worth(2))
      }
    }
  })

  it('sprays save a greater share of the yield the shorter the rotation', () => {
    const none = context.threats.map(() => 1)
    for (const water of ['irrigated', 'dryland'] as const) {
      for (const level of ['low', 'moderate', 'high'] as const) {
        const saved = (years: number) => {
          const at = place({ water, years, level })
          return 1 - yieldOf(at, none) / yieldOf(at)
        }
        expect(saved(0), `${water} ${level}`).toBeGreaterThan(saved(1))
        expect(saved(1), `${water} ${level}`).toBeGreaterThan(saved(2))
      }
      // In pounds too where the ground is not lost anyway: on worn ground under heavy pressure there is less to save.
      const pounds = (years: number) =>
        yieldOf(place({ water, years, level: 'low' })) - yieldOf(place({ water, years, level: 'low' }), none)
      expect(pounds(0)).toBeGreaterThan(pounds(1))
      expect(pounds(1)).toBeGreaterThan(pounds(2))
    }
  })
})

describe('T15: peanut after peanut with and without sprays (Quincy FL)', () => {
  /** Shares of the rotated, fully treated plot, high pressure throughout, a susceptible variety. */
  const at = (years: number) => place({ years, level: 'high', rating: 7 })
  const full = yieldOf(
    at(3),
    context.threats.map(({ isNematode }) => (isNematode ? 0.3 : 0.1)),
  )
  const share = (fungicide: boolean, nematicide: boolean) =>
    yieldOf(
      at(0),
      context.threats.map(({ isNematode }) => (isNematode ? (nematicide ? 0.3 : 1) : fungicide ? 0.1 : 1)),
    ) / full

  it.each([
    ['none', false, false, 0.2],
    ['fungicide', true, false, 0.48],
    ['fungicide and nematicide', true, true, 0.61],
  ] as const)('%s', (_, fungicide, nematicide, published) => {
    expect(Math.abs(share(fungicide, nematicide) - published)).toBeLessThan(0.12)
  })
})

it('an explained crop is the crop', () => {
  const at = place({})
  const calculation = new Calculation(true)
  const ground = groundFor(context, at.field, calculation)
  const { lb } = cropOf(context, ground, at, figures(usualLeft), calculation)
  expect(pick(calculation.lines, ({ id }) => id === 'yield').value).toBe(lb)
  expect(lb).toBe(yieldOf(at))
})
