/** Machine hours, weeks, ripeness by days and by heat, and what digging off the best day costs. */
import { describe, expect, it } from 'vitest'
import { diggingDelayLoss, diggingLossRange } from '../../../src-shared/agronomy/digging-loss.ts'
import { addDays, hoursPerAcre, machineHours, middleOf, weekOf } from '../../../src-shared/agronomy/harvest.ts'
import { dayOfHeat, degreeDays, fahrenheitDegreeDays, ripenessOf } from '../../../src-shared/agronomy/ripeness.ts'
import { Book } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { demoFarm } from '../demo-farm.ts'

const book = new Book(starterBook)
const days = (count: number, maxF: number, minF: number) => Array.from({ length: count }, () => ({ maxF, minF }))

describe('hours', () => {
  const { machines } = demoFarm()

  it('of the demo: two diggers of 18 ft at 2.4 mph and 75 % dig 3.93 acres an hour each', () => {
    // 18 × 2.4 × 0.75 / 8.25 = 3.927; an acre takes a digger 0.2546 h.
    expect(hoursPerAcre(machines, 'digger', 0)).toBeCloseTo(0.25463, 5)
    expect(hoursPerAcre(machines, 'digger', 0.25)).toBeCloseTo(1.25 * 0.25463, 5)
  })

  it('a week of 4.5 fit days: 2 × 9 × 4.5 = 81 digger hours, 318 acres', () => {
    expect(machineHours(machines, 'digger', 4.5)).toBe(81)
    expect(81 / hoursPerAcre(machines, 'digger', 0)).toBeCloseTo(318.1, 1)
  })

  it('machines of one kind and unlike rates work side by side', () => {
    const one = {
      name: 'x',
      kind: 'combine' as const,
      count: 1,
      widthFt: 12,
      speedMph: 2.75,
      fieldEfficiency: 0.5,
      hoursPerDay: 8,
    }
    // 2 and 4 acres an hour: 6 together, two machine-hours for six acres.
    expect(hoursPerAcre([one, { ...one, widthFt: 24 }], 'combine', 0)).toBeCloseTo(2 / 6, 12)
  })

  it('a kind that the farm has none of takes no hours', () => {
    expect(hoursPerAcre([], 'planter', 0)).toBe(0)
  })
})

describe('days', () => {
  it('the middle of a window, over a month’s end and in a leap year', () => {
    expect(middleOf({ opens: '04-15', closes: '04-30' }, 2027)).toBe('2027-04-22')
    expect(addDays('2028-02-28', 2)).toBe('2028-03-01')
  })

  it('a week is named by its Monday', () => {
    expect(weekOf('2027-09-05')).toBe('2027-08-30') // a Sunday
    expect(weekOf('2027-09-06')).toBe('2027-09-06')
  })
})

describe('ripeness', () => {
  it('degree days: (90 + 70) / 2 − 56 = 24; cold days count nothing; above the ceiling the ceiling counts', () => {
    expect(degreeDays(90, 70, 56)).toBe(24)
    expect(degreeDays(60, 40, 56)).toBe(0)
    expect(degreeDays(101, 75, 56, 95)).toBe(29)
  })

  it('the Virginia type’s 1,400–1,600 °C days are 2,520–2,880 °F days', () => {
    expect([1400, 1600].map(fahrenheitDegreeDays)).toEqual([2520, 2880])
  })

  it('2,700 from emergence in about 124 days take 21.8 a day (Clemson): a mean of 77.8 °F', () => {
    const reached = dayOfHeat('2027-05-10', days(200, 88.75, 66.85), 2700, 56)
    expect(reached).toBe(addDays('2027-05-10', 123)) // the 124th day
  })

  it('both ways side by side, early and late by the sources that disagree', () => {
    // 24 a day: 2,500 on the 105th day from planting; 2,700 on the 113th from emergence a week later.
    const ripe = ripenessOf(book, '2027-05-01', 138, days(200, 90, 70))
    expect(ripe.byDays).toBe(addDays('2027-05-01', 138))
    expect(ripe.byHeat.usual).toBe(addDays('2027-05-01', 104))
    expect(ripe.byHeat.early).toBe(ripe.byHeat.usual)
    expect(ripe.byHeat.late).toBe(addDays('2027-05-08', 112))
  })

  it('heat from emergence does not count the days before it', () => {
    // A week of 39 a day from planting, then 24: 2,700 / 24 = 113 days from the day of emergence all the same.
    const ripe = ripenessOf(book, '2027-05-01', 138, [...days(7, 95, 95), ...days(200, 90, 70)])
    expect(ripe.byHeat.late).toBe(addDays('2027-05-08', 112))
    // From planting: 7 × 39 = 273, then 2,227 / 24 → 93 days more.
    expect(ripe.byHeat.usual).toBe(addDays('2027-05-01', 7 + 93 - 1))
  })

  it('without weather, or with too little of it, only the days are known', () => {
    expect(ripenessOf(book, '2027-05-01', 140).byHeat).toEqual({ early: null, usual: null, late: null })
    expect(ripenessOf(book, '2027-05-01', 140, days(60, 90, 70)).byHeat.usual).toBeNull()
  })
})

describe('digging off the best day', () => {
  it('ten days at 0.7–1.4 % are 7–14 %, on 4,000 lb 280–560; the other view has 300–500 lb', () => {
    const loss = diggingLossRange(book, 10, 4000)
    expect(loss.share.low).toBeCloseTo(0.07, 12)
    expect(loss.share.usual).toBeCloseTo(0.105, 12)
    expect(loss.share.high).toBeCloseTo(0.14, 12)
    expect(loss.pounds.low).toBeCloseTo(280, 9)
    expect(loss.otherView).toEqual({ low: 300, usual: 400, high: 500 })
    expect(loss.isBeyondStudy).toBe(false)
  })

  it('too early costs as too late; beyond 21 days it is marked; a crop is all there is to lose', () => {
    expect(diggingLossRange(book, -10, 4000).share).toEqual(diggingLossRange(book, 10, 4000).share)
    expect(diggingLossRange(book, -10, 4000).otherView).toBeNull()
    expect(diggingLossRange(book, 22, 4000).isBeyondStudy).toBe(true)
    expect(diggingDelayLoss(400, 0.0105)).toBe(1)
    expect(diggingDelayLoss(0, 0.0105)).toBe(0)
  })
})
