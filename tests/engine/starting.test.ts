/** A new farm started by its region: proposals that follow from the published tables, each accepted or left, one step back. */
import { expect, onTestFinished, test } from 'vitest'
import { allRegions, machineRows, proposalsFor } from '../../src-shared/region/proposals.ts'
import { publishedTable } from '../published/read-csv.ts'
import { startTestEngine } from '../support/engine.ts'
import { dumpOf } from '../support/open-file.ts'

/** T24: share planted by the Sunday of a NASS week, Apr 14 of 2019 being that of week 15. */
const progress = publishedTable('T24_peanut_progress_by_week.csv')
/** T22: days fit for field work in each week. */
const fieldDays = publishedTable('T22_field_days_by_week.csv')

const weekOf = (monthDay: string) => 15 + (Date.parse(`2019-${monthDay}`) - Date.parse('2019-04-14')) / (7 * 86_400_000)

/** [%] planted on a day, between the Sundays of the table. */
function plantedOn(state: string, monthDay: string): number {
  const week = weekOf(monthDay)
  const own = progress.filter((row) => row['state'] === state && row['planted_pct'] !== '')
  const at = (number: number) => Number(own.find((row) => Number(row['nass_week']) === number)?.['planted_pct'])
  const below = Math.floor(week)
  return at(below) + (week - below) * ((at(below + 1) || at(below)) - at(below))
}

test.each(allRegions)(
  '$name: windows meet the share planted, and days are those of their weeks',
  ({ name, windows }) => {
    const [early, usual, late] = windows
    // A day either way: the table has one figure a week.
    const near = (monthDay: string, share: number) =>
      expect(Math.abs(plantedOn(name, monthDay) - share)).toBeLessThan(5)
    near(early!.opens, 2)
    near(usual!.opens, 15)
    near(usual!.closes, 85)
    near(late!.closes, 97)
    for (const { opens, closes, fitDays, bad, good } of windows) {
      let sum = 0
      for (let at = Date.parse(`2019-${opens}`); at <= Date.parse(`2019-${closes}`); at += 86_400_000) {
        const week = Math.ceil(weekOf(new Date(at).toISOString().slice(5, 10)) - 1e-9)
        const row = fieldDays.find((each) => each['state'] === name && Number(each['nass_week']) === week)
        sum += Number(row?.['days_median'] ?? 0) / 7
      }
      expect(Math.abs(sum - fitDays)).toBeLessThanOrEqual(0.51)
      expect(bad).toBeLessThanOrEqual(fitDays)
      expect(good).toBeGreaterThanOrEqual(fitDays)
    }
  },
)

test.each(allRegions)('$name: days of the harvest are those of T23', ({ name, harvest }) => {
  const row = publishedTable('T23_field_days_by_season.csv').find(
    (each) => each['state'] === name && each['operation'] === 'harvest',
  )
  expect([harvest.bad, harvest.usual, harvest.good]).toEqual(
    ['workable_days_between_bad_year_15th_pct', 'workable_days_median', 'workable_days_good_year_85th_pct'].map(
      (column) => Math.trunc(Number(row?.[column])),
    ),
  )
})

test('ten hours of a digger and a combine make the published acres', () => {
  // T16: 30 and 40 acres a day with the digger, 15 and 20 with the combine, of 4 and 6 rows.
  for (const { machine, rows, acres_per_10h_day: acres } of publishedTable('T16_peanut_machine_rates.csv')) {
    const own = proposalsFor(allRegions[0]!, Number(rows)).find(({ key }) => key === `machine/${machine}`)
    const { widthFt, speedMph, fieldEfficiency } = (own!.to as { values: Record<string, number> }).values
    const made = (10 * widthFt! * speedMph! * fieldEfficiency!) / 8.25
    expect(Math.abs(made / Number(acres) - 1)).toBeLessThan(0.04)
  }
})

test.each(allRegions)(
  '$name: all proposals are taken in one step, with their sources, and go again',
  async (region) => {
    const host = startTestEngine()
    onTestFinished(() => host.close())
    await host.must('farm.start', { name: 'New', season: 2027 })
    const before = dumpOf(host.engine.farm!.connection)
    for (const rows of machineRows) {
      const proposals = proposalsFor(region, rows)
      expect(proposals.every(({ source }) => source.length > 10)).toBe(true)
      const sheets = proposals.flatMap(({ to }) => ('sheet' in to ? [to as never] : []))
      const book = proposals.flatMap(({ to, amount }) => ('book' in to ? [{ key: to.book, value: amount!.value }] : []))
      await host.must('region.take', { rows: sheets, book })
    }
    const windows = await host.must('window.list', {})
    expect(windows.map(({ name }) => name).toSorted()).toEqual(['Early', 'Late', 'Usual'])
    expect(windows.find(({ name }) => name === 'Usual')).toMatchObject({
      opens: region.windows[1]!.opens,
      fitDays: region.windows[1]!.fitDays,
    })
    // Beside the practices that every new farm begins with.
    const practices = (await host.must('measure.list', {})).map(({ name }) => name)
    for (const { to } of proposalsFor(region, machineRows.at(-1)!)) {
      if ('sheet' in to && to.sheet === 'measure') expect(practices).toContain(to.values['name'])
    }
    expect((await host.must('machine.list', {})).map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['planter', 'digger', 'combine']),
    )
    expect((await host.must('rule.list', {})).filter(({ isOn }) => isOn).length).toBeGreaterThan(4)
    for (let step = 0; step < machineRows.length; step += 1) await host.must('undo.back', {})
    expect(dumpOf(host.engine.farm!.connection)).toEqual(before)
    expect(host.bugs).toEqual([])
  },
)

test('one that the farm does not take ends the step, and nothing is changed', async () => {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.start', { name: 'New', season: 2027 })
  const before = dumpOf(host.engine.farm!.connection)
  const rows = [
    {
      sheet: 'machine' as const,
      values: { name: 'A', kind: 'planter', widthFt: 24, speedMph: 3, fieldEfficiency: 0.6, hoursPerDay: 10 },
    },
    {
      sheet: 'machine' as const,
      values: { name: 'B', kind: 'tractor', widthFt: 24, speedMph: 3, fieldEfficiency: 0.6, hoursPerDay: 10 },
    },
  ]
  expect(await host.call('region.take', { rows, book: [] })).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-value' }],
  })
  expect(dumpOf(host.engine.farm!.connection)).toEqual(before)
})
