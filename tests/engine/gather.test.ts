/** A season stored and gathered is the same season, sorted: nothing is lost on the way into the tables and back. */
import { expect, test } from 'vitest'
import { demoSeason } from '../../src-main/demo/demo-season.ts'
import { gather } from '../../src-main/engine/plan/gather.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { readSeason, type Season } from '../../src-shared/season.ts'
import { newFarm, smallSeason, temporaryFolder } from '../support/open-file.ts'
import { join } from 'node:path'

/** The order that gather gives: by name; rules, locks, quotes by what they are about. */
function shuffled(season: Season): Season {
  return Object.fromEntries(
    Object.entries(season).map(([key, value]) => [
      key,
      Array.isArray(value) ? [...(value as unknown[])].reverse() : value,
    ]),
  ) as Season
}

test.each([
  ['the small season', smallSeason],
  ['the demo farm', demoSeason],
])('%s: what goes in comes out', async (_name, seasonOf) => {
  const season = seasonOf()
  // A field's windows are a set: gather sorts them.
  for (const field of season.fields) field.windows.sort()
  const { db, seasonId } = newFarm(season)
  const back = await gather(db, seasonId)
  for (const [key, value] of Object.entries(season)) {
    const list = back[key as keyof Season]
    if (!Array.isArray(value)) expect(list).toEqual(value)
    else expect({ [key]: list }).toEqual({ [key]: expect.arrayContaining(value as unknown[]) })
    if (Array.isArray(value)) expect(list).toHaveLength(value.length)
  }
})

test('the order in which things were entered leaves no trace', async () => {
  const one = newFarm(smallSeason())
  const other = newFarm(shuffled(smallSeason()))
  expect(JSON.stringify(await gather(other.db, other.seasonId))).toBe(
    JSON.stringify(await gather(one.db, one.seasonId)),
  )
})

test('what is gathered is a season file, and storing that again gives the same', async () => {
  const first = newFarm()
  const gathered = await gather(first.db, first.seasonId)
  const read = readSeason(JSON.parse(JSON.stringify(gathered)), 'back.season.json')
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const second = newFarm(read.value)
  expect(await gather(second.db, second.seasonId)).toEqual(gathered)
})

test('a season that refers to nothing is refused with its problems, and no file is left', () => {
  const season = smallSeason()
  season.quotes[0] = { ...season.quotes[0]!, variety: 'Nobody' }
  season.exclusions.push({})
  const made = createFarm(join(temporaryFolder(), 'Bad.farm'), season)
  expect(made).toMatchObject({
    ok: false,
    problems: [
      { code: 'unknown-name', where: { path: 'quotes[0].variety' } },
      { code: 'missing', where: { path: 'exclusions[2]' } },
    ],
  })
})
