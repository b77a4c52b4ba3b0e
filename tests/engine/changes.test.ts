/** What changed since the plan, in words. */
import { expect, test } from 'vitest'
import { changesBetween } from '../../src-main/engine/plan/changes.ts'
import type { Season } from '../../src-shared/season.ts'
import { smallSeason } from '../support/open-file.ts'

function after(edit: (season: Season) => void): string[] {
  const season = smallSeason()
  edit(season)
  return changesBetween(smallSeason(), season)
}

test('nothing changed, or only what bears on no plan', () => {
  expect(after(() => undefined)).toEqual([])
  expect(
    after((season) => {
      Object.assign(season.fields[0]!, { note: 'new gate', soil: 'clay', boundary: undefined })
      Object.assign(season.assumptions[0]!, { source: 'elsewhere' })
    }),
  ).toEqual([])
})

test.each<[string, (season: Season) => void]>([
  ['Acres of Creek Bottom were 88, now 92.', (s) => (s.fields[0]!.acres = 92)],
  ['Row pattern of Hill was single, now twin.', (s) => (s.fields[1]!.rowPattern = 'twin')],
  ['Nematode count of Creek Bottom was 40, now not given.', (s) => delete s.fields[0]!.nematodesPer100cc],
  [
    'Spotted wilt of Creek Bottom (pressure) was high, now severe.',
    (s) => (s.fields[0]!.pressure['spotted wilt'] = 'severe'),
  ],
  ['Windows of Hill were none, now Usual.', (s) => s.fields[1]!.windows.push('Usual')],
  ['Field Long Field is gone.', (s) => s.fields.pop()],
  ['Variety Cedar Two is new.', (s) => s.varieties.push({ ...s.varieties[2]!, name: 'Cedar Two' })],
  ['Seeds per pound of Bison were 590.5, now 600.', (s) => (s.varieties[1]!.seedsPerPound = 600)],
  ['Price of a pack of North Seed · Amber was $45.50, now $46.00.', (s) => (s.quotes[0]!.packPriceCents = 4600)],
  ['Packs available of North Seed · Amber were not given, now 10.', (s) => (s.quotes[0]!.availablePacks = 10)],
  ['Amount of “Order … more seed than the rates call for” was 3 %, now 5 %.', (s) => (s.rules[0]!.amount = 0.05)],
  ['“Plant at least … of high oleic” is switched on.', (s) => (s.rules[3]!.isOn = true)],
  ['Value of price · peanuts was 520, now 480.', (s) => (s.assumptions[0]!.value = 480)],
  [
    'Rule “No more than … of the acres in any one variety” is new.',
    (s) => s.rules.push({ rule: 'largest-share', amount: 0.4, isOn: true }),
  ],
  ['Lock Hill · Amber · Usual is gone.', (s) => s.locks.pop()],
  ['Exclusion Bison is new.', (s) => s.exclusions.push({ variety: 'Bison' })],
  ['The season was 2027, now 2028.', (s) => (s.season = 2028)],
])('%s', (says, edit) => {
  expect(after(edit)).toEqual([says])
})
