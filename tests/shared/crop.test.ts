/** Crop names as growers write them in a history. Common practice, no source. */
import { describe, expect, test } from 'vitest'
import { cropKind, cropQuestions } from '../../src-shared/crop.ts'
import { yearsOut } from '../../src-shared/field.ts'

const peanuts =
  'peanut|Peanuts|PEANUTS|Pnuts|pnut|p-nuts|pea nuts|peanuts - runner|runner peanuts|runner|Virginias|GP|G.P.|' +
  'HO runner peanuts|high oleic runners|dryland peanuts|no-till peanuts|peanuts (irr.)|wheat/peanut|corn & peanuts|' +
  'Spanish|spanish type|groundnuts|green peanuts|seed peanuts|peanuts 2'
const others =
  'corn|Corn|field corn|cotton|Ctn|soybeans|Soys|sb|wheat|wheat/soybeans|winter wheat|oats|small grain|milo|sod|' +
  'bahia grass|bermuda hay|fallow|idle|tobacco|sweet corn|perennial peanut hay|forage peanut|watermelons|cover crop|' +
  'dbl crop soybeans|strip till cotton|sweet potatoes|peas|field peas|pasture'
const unknown = 'xyz|PN?|crop A|not peanuts|no peanuts|leased out|?|peanuts after corn'

describe('crop names', () => {
  test.each(peanuts.split('|'))('%s is peanut', (crop) => expect(cropKind(crop)).toBe('peanut'))
  test.each(others.split('|'))('%s is another crop', (crop) => expect(cropKind(crop)).toBe('other'))
  test.each(unknown.split('|'))('%s is asked about', (crop) => expect(cropKind(crop)).toBe('unknown'))
})

test('every spelling of peanut counts as peanut in the rotation', () => {
  for (const crop of ['2025 Pnuts', '2025 peanuts - runner', '2025 runner peanuts', '2025 GP'].map((c) => c.slice(5))) {
    expect(yearsOut([{ season: 2025, crop }], 2027), crop).toBe(1)
  }
})

test('asks once for each unknown crop, with the fields that name it, until it is settled', () => {
  const fields = [
    { name: 'Hill', history: [{ crop: 'XYZ' }, { crop: 'corn' }] },
    { name: 'Pond', history: [{ crop: ' xyz' }, { crop: 'leased' }] },
  ]
  expect(cropQuestions(fields, [])).toEqual([
    { crop: 'XYZ', fields: ['Hill', 'Pond'] },
    { crop: 'leased', fields: ['Pond'] },
  ])
  expect(cropQuestions(fields, ['xyz']).map(({ crop }) => crop)).toEqual(['leased'])
})
