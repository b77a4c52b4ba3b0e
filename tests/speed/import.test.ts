/**
 * 10,000 rows brought into a farm file, from bytes to taken: fields in all their columns, each of which is a dozen rows
 * of tables, and quotes. Prints the seconds of each step; what it asserts is that every row is accounted for.
 */
import { afterEach, beforeEach, expect, test } from 'vitest'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { lookAtFiles, takeFiles } from '../../src-main/engine/bringing-in.ts'
import { beginUndoStep, endUndoStep, undoBack } from '../../src-main/engine/db/undo.ts'
import { createFarm, type OpenFarm } from '../../src-main/engine/farm-file.ts'
import { createEngine } from '../../src-main/engine/engine.ts'
import { readSheets } from '../../src-main/engine/import/read-sheets.ts'
import { valueOf } from '../../src-shared/problem.ts'
import { startSeason } from '../../src-main/engine/start-season.ts'
import { writeXlsx } from '../../src-main/engine/export/write-table.ts'
import { stores } from '../../src-main/engine/sheets/stores.ts'
import { Writer } from '../../src-main/engine/sheets/writer.ts'

const count = 10_000
const homes: string[] = []

function newFarm(): OpenFarm {
  const home = mkdtempSync(join(tmpdir(), 'standwell-bench-'))
  homes.push(home)
  const made = createFarm(join(home, 'Bench.farm'), startSeason('Bench', 2027))
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  return made.value
}
let farm: OpenFarm
beforeEach(() => {
  farm = newFarm()
})
afterEach(() => {
  farm.close()
  for (const home of homes.splice(0)) rmSync(home, { recursive: true, force: true })
})

async function timed<Value>(what: string, work: () => Promise<Value> | Value): Promise<Value> {
  const [begun, before] = [performance.now(), process.threadCpuUsage()]
  const value = await work()
  const seconds = (performance.now() - begun) / 1000
  const { user, system } = process.threadCpuUsage(before)
  // What this thread really worked: in a run of all tests others have the processor for half of the time.
  const worked = (user + system) / 1e6
  process.stdout.write(`${what}: ${worked.toFixed(2)} s of work in ${seconds.toFixed(2)} s\n`)
  return value
}

/** As the engine's door does it: one transaction, one undo step. */
async function asChange<Value>(label: string, work: () => Promise<Value>): Promise<Value> {
  farm.connection.exec('BEGIN IMMEDIATE')
  beginUndoStep(farm.connection, label)
  const value = await work()
  endUndoStep(farm.connection)
  farm.connection.exec('COMMIT')
  return value
}

const engine = createEngine({ home: '', say: () => undefined, noteBug: () => undefined })

/** [s] of work from the bytes to what is taken: all that the engine does of it. */
async function bring(onto: 'field' | 'quote', name: string, bytes: Buffer): Promise<void> {
  const input = {
    files: [{ name, base64: bytes.toString('base64') }],
    onto,
    choices: {},
    answers: {},
    withValues: false,
  }
  await timed(`${name}: all together`, async () => {
    // In a thread of its own; here in this one, so that its work is counted.
    const read = await timed(`${name}: read`, async () => valueOf(await readSheets(name, bytes)))
    const files = { files: [read], problems: [] }
    const seen = await timed(`${name}: recognized and every row judged`, () => lookAtFiles(engine, farm, input, files))
    const [table] = seen.tables
    expect(table?.columns.map(({ id }) => id)).not.toContain(null)
    expect(table?.questions).toEqual([])
    const { counts } = table!
    expect(Object.values(counts).reduce((sum, each) => sum + each, 0)).toBe(count)
    expect(counts.added + counts.changed).toBe(count)
    expect(table?.leftCells).toBe(0)
    await timed(`${name}: taken`, () =>
      asChange('Import', () => takeFiles(engine, farm, { ...input, onlyGood: false }, files)),
    )
  })
}

const threats = ['early leaf spot', 'late leaf spot', 'southern stem rot', 'spotted wilt', 'root-knot nematode']
const header = [
  'Field',
  'Acres',
  'Row spacing',
  'Pattern',
  'Water',
  'Soil',
  'Tillage',
  'Vines grow',
  'Yield goal',
  'Crops',
  'Nematodes per 100 cc',
  ...threats.map((threat) => `pressure ${threat}`),
  'Windows',
  'Drop',
  'Most varieties',
  'Least block acres',
  'Note',
]
const line = (at: number, acres: number) => [
  `Block ${at}`,
  acres,
  36,
  'twin',
  'irrigated',
  'sandy loam',
  'strip',
  'usual',
  4500,
  '2026 cotton; 2025 corn',
  at % 40,
  ...threats.map((_, threat) => (threat < 4 ? 'moderate' : 'low')),
  'Usual; Late',
  '6 seeds/ft',
  2,
  20,
  'as last year',
]
const fields = (acres: number) => Array.from({ length: count }, (_, at) => line(at, acres))
const csv = (head: string[], rows: (string | number)[][]) =>
  Buffer.from([head, ...rows].map((row) => row.join(',')).join('\n'))
/** [acre] of all fields in the file. */
function acresNow(): number {
  return (farm.connection.prepare('SELECT sum(acres) AS acres FROM field_season').get() as { acres: number }).acres
}

test('10,000 fields of a CSV come in, are changed, and go again', async () => {
  await bring('field', 'fields.csv', csv(header, fields(40.5)))
  await bring('field', 'changed.csv', csv(header, fields(41.5)))
  expect(acresNow()).toBe(41.5 * count)
  await timed('taken back', () => undoBack(farm.connection))
  expect(acresNow()).toBe(40.5 * count)
})

test('10,000 fields of a workbook come in and are changed', async () => {
  await bring('field', 'fields.xlsx', await writeXlsx('Fields', header, fields(40.5)))
  await bring('field', 'changed.xlsx', await writeXlsx('Fields', header, fields(42.5)))
  expect(acresNow()).toBe(42.5 * count)
})

test('10,000 quotes with breaks and days come in', async () => {
  const writer = new Writer(farm.connection, farm.seasonId)
  stores.dealer.insert(writer, { name: 'North Barn', orderFeeCents: 0, leastPounds: 0, breaks: [] })
  const amber = { name: 'Amber', seedsPerPound: 690, vine: 'large', daysToMaturity: 140, ratings: {} }
  stores.variety.insert(writer, amber)
  const head = ['Dealer', 'Variety', 'Kind of offer', 'Pack lb', 'Price', 'Breaks', 'Available packs', 'Order by']
  const quotes = Array.from({ length: count }, (_, at) => {
    const breaks = 'from 100 packs $45.50; from 200 packs $44.25'
    return ['North Barn', 'Amber', `offer ${at}`, 50, 46.5, breaks, 900, '2027-03-01']
  })
  await bring('quote', 'quotes.csv', csv(head, quotes))
})
