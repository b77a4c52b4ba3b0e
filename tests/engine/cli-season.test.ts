/** roll and archive as the command line calls them (the built commands are run by tests/windows), on season files and on a farm file that is left as it was. */
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { seasonCommand, type SeasonOptions } from '../../src-main/engine/cli-season.ts'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import type { SeasonVerb } from '../../src-shared/season-verbs.ts'
import { problemLine } from '../../src-shared/problem.ts'
import { readJson } from '../../src-shared/read-file.ts'
import { readSeason, type Season } from '../../src-shared/season.ts'
import { dumpOf, smallSeason, temporaryFolder } from '../support/open-file.ts'
import { plantedFarm } from '../support/spring-farm.ts'

async function run(verb: SeasonVerb, path: string, options: Partial<SeasonOptions> = {}) {
  const readFile = (file: string) => readJson(readFileSync(file, 'utf8'), 'file.json')
  const done = await seasonCommand(verb, path, { readFile, ...options })
  if (!done.ok) return { season: null, wrong: done.problems.map(problemLine).join('\n'), says: '' }
  return { season: JSON.parse(done.value.text) as Season, wrong: '', says: done.value.says }
}

const historyOf = (season: Season | null) =>
  Object.fromEntries(season?.fields.map(({ name, history }) => [name, history[0] ?? null]) ?? [])

function fileOf(content: unknown, name = 'small.season.json'): string {
  const path = join(temporaryFolder(), name)
  writeFileSync(path, JSON.stringify(content))
  return path
}

test('a season file: a plan says what was peanut, an option the rest, and what nobody says is unknown', async () => {
  const plan = fileOf({ plan: { blocks: [{ field: 'Hill' }, { field: 'Hill' }] } }, 'plan.json')
  const { season, wrong, says } = await run('roll', fileOf(smallSeason()), { plan, grew: ['Creek Bottom = cotton'] })
  expect(wrong).toBe('')
  const acresOf = (...names: string[]) =>
    smallSeason()
      .fields.filter(({ name }) => names.includes(name))
      .reduce((sum, { acres }) => sum + acres, 0)
  expect(says).toBe(
    `2028: 1 field rests, ${acresOf('Hill')} acres: Hill. 2 fields are open, ` +
      `${acresOf('Creek Bottom', 'Long Field')} acres. Clear Rests on a field to plant it in peanut.\n`,
  )
  // Nothing grew peanut, so nothing rests and nothing is said.
  expect((await run('roll', fileOf(smallSeason()))).says).toBe('')
  expect(historyOf(season)).toEqual({
    'Creek Bottom': { season: 2027, crop: 'cotton' },
    Hill: { season: 2027, crop: 'peanut' },
    'Long Field': null,
  })
  expect(season).toMatchObject({ season: 2028, quotes: [], carried: [], locks: [], exclusions: [] })
  expect(season?.varieties).toEqual(smallSeason().varieties)
  expect(readSeason(season, 'next').ok).toBe(true)
})

test.each([
  [{ grew: ['Hill'] }, /--grew must be a field and a crop/],
  [{ grew: ['Hill='] }, /--grew must be a field and a crop/],
  [{ grew: ['hill=corn'] }, /no field hill.*capitals count/],
  [{ plan: { plan: { blocks: [{ field: 'Moon' }] } } }, /no field Moon/],
  [{ plan: { purchases: [] } }, /plan/],
])('%j is refused', async ({ plan, ...options }: { plan?: unknown; grew?: string[] }, says) => {
  const given = plan === undefined ? options : { ...options, plan: fileOf(plan, 'plan.json') }
  expect((await run('roll', fileOf(smallSeason()), given)).wrong).toMatch(says)
})

test('a farm file: its plantings and its lots say it; the file is not changed', async () => {
  const farm = await plantedFarm()
  const { path } = farm.engine.farm!
  const before = dumpOf(farm.engine.farm!.connection)
  farm.engine.farm!.close()
  farm.engine.farm = null
  const { season, wrong } = await run('roll', path, { grew: ['Long Field=corn', 'Hill=cotton'] })
  expect(wrong).toBe('')
  expect(historyOf(season)).toMatchObject({
    Hill: { season: 2027, crop: 'peanut' },
    'Long Field': { season: 2027, crop: 'corn' },
  })
  expect(season?.carried).toMatchObject([{ lot: farm.lot.lotNumber, pounds: 300 }])
  const archive = await run('archive', path)
  expect(archive.season).toMatchObject({ season: 2027, happened: { plantings: [{ field: 'Hill' }] } })
  expect((await run('archive', path, { season: '2026' })).wrong).toMatch(/no season 2026.*It has 2027/)
  expect((await run('roll', path, { plan: 'x' })).wrong).toMatch(/--plan is for a season file/)
  const again = openFarm(path)
  if (!again.ok) throw new Error('It does not open.')
  expect(dumpOf(again.value.connection)).toEqual(before)
  again.value.close()
})
