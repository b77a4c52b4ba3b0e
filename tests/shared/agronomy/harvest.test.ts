/** Machine hours and weeks. */
import { describe, expect, it } from 'vitest'
import { addDays, hoursPerAcre, weekHours, middleOf, weekOf } from '../../../src-shared/agronomy/harvest.ts'
import { demoFarm } from '../demo-farm.ts'

describe('hours', () => {
  const { machines } = demoFarm()

  it('of the demo: three diggers of 18 ft at 2.4 mph and 75 % dig 3.93 acres an hour each', () => {
    // 18 × 2.4 × 0.75 / 8.25 = 3.927; an acre takes a digger 0.2546 h.
    expect(hoursPerAcre(machines, 'digger', 0)).toBeCloseTo(0.25463, 5)
    expect(hoursPerAcre(machines, 'digger', 0.25)).toBeCloseTo(1.25 * 0.25463, 5)
  })

  it('a week of 4.5 fit days: 3 × 9 × 4.5 = 121.5 digger hours, 477 acres', () => {
    expect(weekHours(machines, 'digger', '2027-09-20', 4.5)).toBe(121.5)
    expect(121.5 / hoursPerAcre(machines, 'digger', 0)).toBeCloseTo(477.2, 1)
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
