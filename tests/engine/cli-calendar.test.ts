/** The command that lists a plan by weeks: as text, as data, as the two files that the page writes; and what it refuses. */
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { calendarCommand, type CalendarOptions } from '../../src-main/engine/cli-calendar.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import type { CalendarView } from '../../src-shared/calendar-view.ts'
import { problemLine } from '../../src-shared/problem.ts'
import { smallSeason, temporaryFolder } from '../support/open-file.ts'
import { springFarm } from '../support/spring-farm.ts'

async function run(farm: string, options: Partial<CalendarOptions> = {}) {
  const plain = { today: '2027-01-20', json: false, csv: false, ics: false }
  const done = await calendarCommand(farm, { ...plain, ...options })
  return done.ok ? { text: done.value, wrong: '' } : { text: '', wrong: done.problems.map(problemLine).join('\n') }
}

test('the plan of a farm file by weeks, in four forms that agree', { timeout: 300_000 }, async () => {
  const { must, engine } = await springFarm()
  const { blocks } = (await must('plan.latest', {}))!.plan!
  const farm = engine.farm!.path
  engine.farm!.close()
  engine.farm = null

  const { text, wrong } = await run(farm)
  expect(wrong).toBe('')
  for (const { field, variety } of blocks) expect(text).toMatch(new RegExp(`${field} +${variety} `))
  expect(text).toMatch(/^Last insurable planting day [A-Z][a-z]{2} \d+, last safe digging day [A-Z][a-z]{2} \d+\.$/m)

  const view = JSON.parse((await run(farm, { json: true })).text) as CalendarView
  expect(view.blocks.map(({ field, variety }) => `${field}/${variety}`).sort()).toEqual(
    blocks.map(({ field, variety }) => `${field}/${variety}`).sort(),
  )
  const planted = view.weeks.reduce((sum, { loads }) => sum + loads.planting.acres, 0)
  expect(planted).toBeCloseTo(
    blocks.reduce((sum, { acres }) => sum + acres, 0),
    6,
  )
  const parts = view.blocks.flatMap((block) => block.parts)
  const csv = (await run(farm, { csv: true })).text.trim().split('\r\n')
  expect(csv.length).toBeGreaterThan(parts.length)
  const ics = (await run(farm, { ics: true })).text
  expect(ics).toMatch(/^BEGIN:VCALENDAR\r\n/)
  expect(ics.match(/BEGIN:VEVENT/g)?.length).toBeGreaterThanOrEqual(parts.length)
})

test('a farm without a plan, a season and a day that are none are refused', async () => {
  const made = createFarm(join(temporaryFolder(), 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  const { path } = made.value
  made.value.close()
  expect(await run(path)).toMatchObject({ text: '', wrong: expect.stringContaining('no plan by weeks yet') })
  expect((await run(path, { today: 'soon' })).wrong).toContain('--today must be a date')
  expect((await run(path, { season: '1999' })).wrong).toContain('1999')
  expect((await run(join(path, 'none'))).wrong).not.toBe('')
})
