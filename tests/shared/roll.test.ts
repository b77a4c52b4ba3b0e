/** The next season from the last, as plain values. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { isPeanut } from '../../src-shared/crop.ts'
import { yearsOut } from '../../src-shared/field.ts'
import { rollSeason } from '../../src-shared/roll.ts'
import { readSeason } from '../../src-shared/season.ts'
import { demoFarm } from './demo-farm.ts'

const farm = demoFarm()
const crop = fc.option(fc.constantFrom('peanut', 'Peanuts', 'cotton', 'corn'), { nil: undefined })

test('whatever grew, the next season has the same ground, varieties and rules, and a history one year longer', () => {
  fc.assert(
    fc.property(fc.array(crop, { minLength: farm.fields.length, maxLength: farm.fields.length }), (grew) => {
      const crops = new Map(farm.fields.flatMap(({ name }, at) => (grew[at] ? [[name, grew[at]] as const] : [])))
      const next = rollSeason(farm, crops, [])
      const { season, fields, quotes, contracts, carried, locks, exclusions, weeks, ...kept } = next
      // Mondays of the next year, with the same days fit for work.
      expect(weeks.map(({ starts: _, ...days }) => days)).toEqual(farm.weeks.map(({ starts: _, ...days }) => days))
      for (const { starts } of weeks) expect(new Date(`${season}-${starts}T00:00:00Z`).getUTCDay()).toBe(1)
      expect([season, quotes, contracts, carried, locks, exclusions]).toEqual([farm.season + 1, [], [], [], [], []])
      for (const [key, value] of Object.entries(kept)) expect(value).toEqual(farm[key as keyof typeof farm])
      fields.forEach((field, at) => {
        const old = farm.fields[at]!
        const { history, rests, ...ground } = field
        const { history: before, rests: rested, ...oldGround } = old
        expect(ground).toEqual(oldGround)
        const name = crops.get(field.name)
        // Ground in peanut rests, ground in another crop is open again, and of what is not known nothing changes.
        expect(rests).toBe(name === undefined ? rested : isPeanut(name))
        expect(history).toEqual(name === undefined ? before : [{ season: farm.season, crop: name }, ...before])
        const [was, is] = [yearsOut(before, farm.season), yearsOut(history, season)]
        if (name !== undefined && isPeanut(name)) expect(is).toBe(0)
        else if (was !== null) expect(is).toBe(was + 1)
      })
      // It is a season that a file may hold.
      expect(readSeason(JSON.parse(JSON.stringify(next)), 'next').ok).toBe(true)
    }),
    { numRuns: 60 },
  )
})

test('two seasons on, every field has been out of peanut for two years more', () => {
  const cotton = new Map(farm.fields.map(({ name }) => [name, 'cotton']))
  const later = rollSeason(rollSeason(farm, cotton, []), cotton, [])
  expect(later.fields.map(({ history }) => yearsOut(history, later.season))).toEqual(
    farm.fields.map(({ history }) => yearsOut(history, farm.season)! + 2),
  )
})

test('a crop that stands in the history is not written twice; a second one of the year is', () => {
  const [first] = farm.fields
  const history = [{ season: farm.season, crop: 'Peanuts' }]
  const season = { ...farm, fields: [{ ...first!, history }] }
  const roll = (crop: string) => rollSeason(season, new Map([[first!.name, crop]]), []).fields[0]!.history
  expect(roll('peanut')).toEqual(history)
  expect(roll('rye')).toEqual([{ season: farm.season, crop: 'rye' }, ...history])
})

test('what was written out with a season does not go along', () => {
  const next = rollSeason({ ...farm, plan: { blocks: [] }, happened: { loads: [] } }, new Map(), [])
  expect(next).not.toHaveProperty('plan')
  expect(next).not.toHaveProperty('happened')
})
