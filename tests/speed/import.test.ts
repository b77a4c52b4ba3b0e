/**
 * 10,000 rows brought into a farm file: looked at, judged and taken, for fields, each of
 * which is ten rows of tables. Prints the seconds of each step; what it asserts is that every row is accounted for.
 */
import { expect, test } from 'vitest'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { lookAtFile, previewFile, takeFile } from '../../src-main/engine/bringing-in.ts'
import { beginUndoStep, endUndoStep, undoBack } from '../../src-main/engine/db/undo.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { startSeason } from '../../src-main/engine/start-season.ts'
import { writeXlsx } from '../../src-main/engine/export/write-table.ts'

const count = 10_000
const home = mkdtempSync(join(tmpdir(), 'standwell-bench-'))
const made = createFarm(join(home, 'Bench.farm'), startSeason('Bench', 2027))
if (!made.ok) throw new Error(JSON.stringify(made.problems))
const farm = made.value

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

async function bring(name: string, bytes: Buffer) {
  const file = { name, base64: bytes.toString('base64') }
  const look = await timed(`${name}: columns`, () => lookAtFile(farm, { sheet: 'field', file }))
  const match = look.headers.map((header) => header.match)
  const input = {
    sheet: 'field' as const,
    file,
    match,
    style: { numbers: 'point' as const, shares: 'percent' as const },
  }
  const { counts } = await timed(`${name}: every row judged`, () => previewFile(farm, input))
  expect(Object.values(counts).reduce((sum, each) => sum + each, 0)).toBe(count)
  expect(counts.added + counts.changed).toBe(count)
  await timed(`${name}: taken`, () => asChange('Bring in', () => takeFile(farm, { ...input, onlyGood: false })))
}

const threats = ['early leaf spot', 'late leaf spot', 'southern stem rot', 'spotted wilt', 'root-knot nematode']
const header = [
  'Field',
  'Acres',
  'Row spacing',
  'Pattern',
  'Water',
  'Yield goal',
  'Crops',
  'Windows',
  ...threats.map((threat) => `pressure ${threat}`),
]
const line = (at: number, acres: number) => [
  `Block ${at}`,
  acres,
  36,
  'twin',
  'irrigated',
  4500,
  '2026 cotton; 2025 corn',
  'Usual; Late',
  ...threats.map((_, threat) => (threat < 4 ? 'moderate' : '')),
]
const fields = (acres: number) => Array.from({ length: count }, (_, at) => line(at, acres))
/** [acre] of all fields in the file. */
function acresNow(): number {
  return (farm.connection.prepare('SELECT sum(acres) AS acres FROM field_season').get() as { acres: number }).acres
}

test('10,000 rows come in, are changed, and go again', { timeout: 60_000 }, async () => {
  await bring('fields.csv', Buffer.from([header, ...fields(40.5)].map((row) => row.join(',')).join('\n')))
  await bring('changed.csv', Buffer.from([header, ...fields(41.5)].map((row) => row.join(',')).join('\n')))
  expect(acresNow()).toBe(41.5 * count)
  await timed('taken back', () => undoBack(farm.connection))
  expect(acresNow()).toBe(40.5 * count)
  await bring('fields.xlsx', await writeXlsx('Fields', header, fields(42.5)))
  expect(acresNow()).toBe(42.5 * count)

  farm.close()
  rmSync(home, { recursive: true, force: true })
})
