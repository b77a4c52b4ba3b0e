/** Entries that look like slips of typing. The limits are common practice, no source. */
import { describe, expect, test } from 'vitest'
import { unusualAcres, unusualDelivery, unusualLoad, unusualLot, unusualPlanting } from '../../src-shared/unusual.ts'

const lot = { name: 'A-1', variety: 'Amber', arrivedOn: '2027-04-10', packs: null, pounds: 5600, packPounds: 50 }
const planting = { field: 'Hill', plantedOn: '2027-04-20', acres: 40, pounds: 5600, lots: [lot] }
const says = (change: object, planned = ['Amber']) =>
  unusualPlanting({ ...planting, ...change }, 2027, planned).map(({ what }) => what)

describe('a planting', () => {
  test('as usual is not asked about', () => expect(says({})).toEqual([]))
  test('half typed is not asked about', () =>
    expect(says({ plantedOn: null, acres: null, pounds: 0, lots: [] })).toEqual([]))
  test('before its lot came', () =>
    expect(says({ plantedOn: '2027-04-09' })[0]).toContain('before lot A-1 came on Apr 10'))
  test('on the day its lot came is right', () => expect(says({ plantedOn: '2027-04-10' })).toEqual([]))
  test('in another year', () => expect(says({ plantedOn: '2026-04-20' })[0]).toContain('outside season 2027'))
  test('of 400 lb an acre', () => {
    expect(says({ pounds: 40 * 400 })).toEqual([])
    expect(says({ pounds: 40 * 401 })[0]).toContain('401 lb of seed an acre')
  })
  test('of less than 20 lb an acre', () => {
    expect(says({ pounds: 40 * 20 })).toEqual([])
    expect(says({ pounds: 190 })).toEqual(['Hill takes only 5 lb of seed an acre.'])
  })
  test('of packs that do not make its pounds, but for a pack planted in part', () => {
    const of = (packs: number, pounds: number) => says({ lots: [{ ...lot, packs, pounds }] })
    expect(of(112, 5600)).toEqual([])
    expect(of(113, 5600)).toEqual([])
    expect(of(1, 1300)).toEqual(['1,300 lb of lot A-1 are planted in Hill; its packs make 50 lb.'])
  })
  test('of more acres than the field has', () => {
    expect(unusualAcres({ name: 'Hill', acres: 38 }, 38.7)).toEqual([])
    const what = '76 acres of Hill are planted with this entry; the field has 38.'
    expect(unusualAcres({ name: 'Hill', acres: 38 }, 76)).toMatchObject([{ what, where: { column: 'acres' } }])
  })
  test('of another variety than the plan has there', () => {
    expect(says({}, ['Bison'])).toEqual(['Lot A-1 is Amber; the plan has Bison on Hill.'])
    expect(says({}, [])).toEqual([])
  })
})

test('a delivery of another season, or heavier than a truck', () => {
  const at = (arrivedOn: string, scalePounds: number | null) =>
    unusualDelivery({ arrivedOn, scalePounds }, 2027).map(({ where }) => where?.column)
  expect(at('2027-04-10', 44_000)).toEqual([])
  expect(at('2026-09-01', null)).toEqual([])
  expect(at('2026-08-31', 100_000)).toEqual(['arrivedOn'])
  expect(at('2027-08-31', 100_001)).toEqual(['scalePounds'])
})

test('a lot whose packs and pounds disagree, of another variety, or heavier than a truck', () => {
  const base = { lotNumber: 'A-1', variety: 'Amber', pounds: 2000, packs: 40, packPounds: 50 }
  const at = (change: object, ordered: string | null = 'Amber') =>
    unusualLot({ ...base, ...change }, ordered).map(({ where }) => where?.column)
  expect(at({})).toEqual([])
  expect(at({ pounds: 2040 })).toEqual([])
  expect(at({ pounds: 2041 })).toEqual(['pounds'])
  expect(at({ pounds: 400_000, packs: null })).toEqual(['pounds'])
  expect(at({}, 'Bison')).toEqual(['varietyId'])
  expect(at({}, null)).toEqual([])
})

test('a load of another year, or heavier than a truck', () => {
  const at = (hauledOn: string, grossPounds: number) =>
    unusualLoad({ hauledOn, grossPounds, netPounds: 0 }, 2027).length
  expect(at('2027-10-02', 52_000)).toBe(0)
  expect(at('2028-01-15', 52_000)).toBe(0)
  expect(at('2025-10-02', 52_000)).toBe(1)
  expect(at('2027-10-02', 400_000)).toBe(1)
  const wet = { hauledOn: '2027-10-02', grossPounds: 40_000, netPounds: 30_000 }
  expect(unusualLoad({ ...wet, moisture: 0.3, foreignMaterial: 0.3 }, 2027)).toEqual([])
  expect(unusualLoad({ ...wet, moisture: 0.4, foreignMaterial: 1 }, 2027)).toEqual([
    '40 % moisture is more than a buying point takes.',
    '100 % foreign material is more than a combine leaves.',
  ])
})
