/** The command that imports: the same recognition as in the window, a dry run that writes nothing, answers by file or by acceptance. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeEach, expect, onTestFinished, test } from 'vitest'
import { createFarm, openFarm } from '../../src-main/engine/farm-file.ts'
import { importCommand, type ImportOptions } from '../../src-main/engine/cli-import.ts'
import { startSeason } from '../../src-main/engine/start-season.ts'
import { ok, valueOf } from '../../src-shared/problem.ts'
import { dumpOf } from '../support/open-file.ts'

let folder: string
let farm: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'standwell-import-'))
  const home = process.env.STANDWELL_HOME
  process.env.STANDWELL_HOME = join(folder, 'home')
  onTestFinished(() => {
    rmSync(folder, { recursive: true, force: true })
    if (home === undefined) delete process.env.STANDWELL_HOME
    else process.env.STANDWELL_HOME = home
  })
  farm = join(folder, 'New.farm')
  valueOf(createFarm(farm, startSeason('New', 2027))).close()
})

const file = (name: string, text: string) => {
  writeFileSync(join(folder, name), text)
  return join(folder, name)
}
const fields = () => file('fields.csv', 'Field,Ac.,Irr,Goal,White mold\nHome,40,Y,4800,some\nCreek,20,N,3500,some\n')
const run = (paths: string[], options: Partial<ImportOptions> = {}) =>
  importCommand(farm, paths, {
    dryRun: false,
    json: false,
    accept: false,
    leave: false,
    readFile: () => ok({}),
    ...options,
  })

function dump() {
  const opened = valueOf(openFarm(farm))
  const all = dumpOf(opened.connection)
  opened.close()
  return all
}
const count = (table: string) => {
  const opened = valueOf(openFarm(farm))
  const rows = opened.connection.prepare(`SELECT count(*) FROM "${table}"`).pluck().get()
  opened.close()
  return rows
}

test('a dry run says what it would do, and what is asked, and writes nothing', async () => {
  const before = dump()
  const { text, isWhole } = valueOf(await run([fields()], { dryRun: true, json: true }))
  expect(isWhole).toBe(false)
  const result = JSON.parse(text) as {
    tables: { noun: string; questions: { key: string; suggestion: string }[]; rows: { values: unknown[] }[] }[]
    isDone: boolean
  }
  expect(result).toMatchObject({
    isDone: false,
    tables: [{ noun: 'field', questions: [{ key: 'word/level/some', suggestion: 'moderate' }], counts: { added: 2 } }],
  })
  expect(result.tables[0]!.rows[0]!.values).toEqual([
    { name: 'Home', acres: 40, water: 'irrigated', yieldGoalLb: 4800 },
  ])
  expect(dump()).toEqual(before)
})

test('what is asked keeps it from being written, until it is answered, accepted or left', async () => {
  expect(valueOf(await run([fields()]))).toMatchObject({
    isWhole: false,
    text: expect.stringContaining('Nothing was written.'),
  })
  expect(count('field')).toBe(0)
  const answers = { answers: { 'word/level/some': 'low' } }
  const answered = valueOf(await run([fields()], { answers: 'answers.json', readFile: () => ok(answers) }))
  expect(answered).toMatchObject({
    isWhole: true,
    text: expect.stringMatching(/“some” → low \(2 cells\)[^]*Imported\.\n$/),
  })
  expect(count('field_pressure')).toBe(2)
})

test('quotes, varieties and boundaries in one command, with the likely answers accepted', async () => {
  const varieties = file('varieties.csv', 'Variety,Seed/lb,Vine,Days,TSWV\nBrindle,690,large,140,MR\n')
  const quotes = file(
    'Burrow Bend Seed.csv',
    'Burrow Bend Seed prices,,\nVariety,Unit,Price\nBrindle,50 lb bag,48.50\n',
  )
  const ring = [
    [-84, 31.5],
    [-83.996, 31.5],
    [-83.996, 31.504],
    [-84, 31.504],
    [-84, 31.5],
  ]
  const feature = (name: string) => ({
    type: 'Feature',
    properties: { name },
    geometry: { type: 'Polygon', coordinates: [ring] },
  })
  const map = file(
    'map.geojson',
    JSON.stringify({ type: 'FeatureCollection', features: [feature('Home'), feature('Nowhere')] }),
  )
  const { text, isWhole } = valueOf(await run([quotes, varieties, map, fields()], { accept: true, leave: true }))
  expect(isWhole).toBe(false)
  expect(text).toMatch(/new dealers: Burrow Bend Seed/)
  expect(text).toMatch(/map.geojson: boundaries, 1 added, 1 refused/)
  expect([count('quote'), count('variety'), count('field'), count('field_boundary')]).toEqual([1, 1, 2, 1])
})

test('rows refused for one reason are named together', async () => {
  const lacking = file('lacking.csv', 'Field,Ac.,Irr,Goal\nOne,40,Y,\nTwo,41,Y,\nThree,42,Y,4000\nFour,43,Y,\n')
  const { text } = valueOf(await run([lacking], { dryRun: true }))
  expect(text).toMatch(/\n {2}rows 2–3, 5 refused: Goal: “Yield goal” is empty/)
})

test('a file that is not there, and a file of answers that is none, are refused in words', async () => {
  expect(await run([join(folder, 'none.csv')])).toMatchObject({
    ok: false,
    problems: [{ what: 'The file is not there.' }],
  })
  expect(await run([fields()], { answers: 'a.json', readFile: () => ok({ odd: 1 }) })).toMatchObject({
    ok: false,
    problems: [{ where: { file: 'a.json' } }],
  })
  expect(await run([file('empty.csv', '')])).toMatchObject({ ok: false, problems: [{ code: 'bad-file' }] })
})
