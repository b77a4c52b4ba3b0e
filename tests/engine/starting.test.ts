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

const after = (monthDay: string, days: number) =>
  new Date(Date.parse(`2019-${monthDay}`) + days * 86_400_000).toISOString().slice(5, 10)

/** [%] planted on a day, between the Sundays of the table. */
function plantedOn(state: string, monthDay: string): number {
  const week = weekOf(monthDay)
  const own = progress.filter((row) => row['state'] === state && row['planted_pct'] !== '')
  const at = (number: number) => Number(own.find((row) => Number(row['nass_week']) === number)?.['planted_pct'])
  const below = Math.floor(week)
  return at(below) + (week - below) * ((at(below + 1) || at(below)) - at(below))
}

test.each(allRegions)(
  '$name: windows meet the share planted, and weeks have the days of the table',
  ({ name, windows, weeks }) => {
    const [early, usual, late] = windows
    // A day either way: the table has one figure a week.
    const near = (monthDay: string, share: number) =>
      expect(Math.abs(plantedOn(name, monthDay) - share)).toBeLessThan(5)
    near(early!.opens, 2)
    near(usual!.opens, 15)
    near(usual!.closes, 85)
    near(late!.closes, 97)
    for (const [monday, bad, usual, good] of [...weeks.planting, ...weeks.harvest]) {
      const row = fieldDays.find(
        (each) =>
          each['state'] === name && Date.parse(`${each['monday_in_2019']} 2019 UTC`) === Date.parse(`2019-${monday}`),
      )
      expect([bad, usual, good]).toEqual(
        ['days_in_a_bad_year_15th_pct', 'days_median', 'days_in_a_good_year_85th_pct'].map((column) =>
          Number(row?.[column]),
        ),
      )
    }
    // No day of a window is without its week.
    const days = weeks.planting.map(([monday]) => monday)
    expect(days[0]! <= early!.opens && late!.closes <= after(days.at(-1)!, 6)).toBe(true)
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
  // T16 and T29: 30 and 40 acres a day with the digger, 15 and 20 with the combine, of 4 and 6 rows.
  const inOneRow = publishedTable('T29_harvest_capacity_and_handling.csv').flatMap(({ item, value }) => {
    const machine = /^(digger|combine) (?:pull-type )?4-row \/ 6-row$/.exec(item!)?.[1]
    return machine === undefined
      ? []
      : value!.split(' / ').map((acres, at) => ({ machine, rows: String(4 + 2 * at), acres }))
  })
  expect(inOneRow).toHaveLength(4)
  const own = publishedTable('T16_peanut_machine_rates.csv')
  const published = own.map(({ machine, rows, acres_per_10h_day: acres }) => ({
    machine: machine!,
    rows: rows!,
    acres: acres!,
  }))
  for (const { machine, rows, acres } of [...published, ...inOneRow]) {
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
      const sheets = proposals.flatMap(({ to }): never[] => {
        if ('rows' in to) return to.rows.map((values) => ({ sheet: to.sheet, values }) as never)
        return 'sheet' in to ? [to as never] : []
      })
      const book = proposals.flatMap(({ to, amount }) => ('book' in to ? [{ key: to.book, value: amount!.value }] : []))
      await host.must('region.take', { rows: sheets, book })
    }
    const windows = await host.must('window.list', {})
    expect(windows.map(({ name }) => name).toSorted()).toEqual(['Early', 'Late', 'Usual'])
    expect(windows.find(({ name }) => name === 'Usual')).toMatchObject({
      opens: region.windows[1]!.opens,
    })
    const weeks = await host.must('week.list', {})
    expect(weeks.filter(({ plantingDays }) => plantingDays !== undefined && plantingDays !== null)).toHaveLength(
      region.weeks.planting.length,
    )
    // Beside the practices that every new farm begins with.
    const practices = (await host.must('measure.list', {})).map(({ name }) => name)
    for (const { to } of proposalsFor(region, machineRows.at(-1)!)) {
      if ('values' in to && to.sheet === 'measure') expect(practices).toContain(to.values['name'])
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
