/**
 * Files that are broken, cut, swollen or meant to do harm: ten thousand made from good ones by seeded mutation, of which each
 * commit takes a fifth (`npm run test:all` all of them), and some made by hand. Each is read or refused in words, within two seconds
 * of work, and nothing is written.
 */
import { join } from 'node:path'
import * as v from 'valibot'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import { deliveryFileSchema } from '../../src-shared/delivery-file.ts'
import { readPlanProblem } from '../../src-shared/plan-problem.ts'
import { readJson } from '../../src-shared/read-file.ts'
import { readSeason } from '../../src-shared/season.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { writeXlsx } from '../../src-main/engine/export/write-table.ts'
import { randomFrom, type Random } from '../plan/random.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { dumpOf, smallSeason } from '../support/open-file.ts'
import { seedFor, takesAll } from '../support/sampled.ts'
import { shapefileZip } from '../support/shapefile-zip.ts'
import { byHand } from './files-by-hand.ts'

const times = process.env.STANDWELL_SAFETY === 'long' ? 10 : takesAll ? 1 : 0.2

let host: TestEngine
let before: string
let fuzzed = 0
let slowest = 0
beforeAll(() => {
  host = startTestEngine()
  const created = createFarm(join(host.engine.home, 'Creek.farm'), smallSeason())
  if (!created.ok) throw new Error(JSON.stringify(created.problems))
  host.engine.farm = created.value
  before = JSON.stringify(dumpOf(created.value.connection))
})
afterAll(async () => {
  await host.close()
  process.stdout.write(`files fuzzed: ${fuzzed}, slowest ${Math.round(slowest)} ms\n`)
})

type File = { name: string; base64: string }
type Answer = { ok: boolean; problems?: { code: string }[] }

/** Reads a file as the window would, up to the judging of every row. */
const readers: Record<string, (file: File) => Promise<Answer>> = {
  async table(file) {
    return (await host.server.call('import.look', { files: [file], onto: 'field', withValues: true })) as Answer
  },
  boundary: (file) => host.server.call('boundary.look', { file }) as Promise<Answer>,
  season: (file) => Promise.resolve(asked(file, (json) => readSeason(json, file.name))),
  problem: (file) => Promise.resolve(asked(file, (json) => readPlanProblem(json, file.name))),
  delivery: (file) => Promise.resolve(asked(file, (json) => ({ ok: v.is(deliveryFileSchema, json) }))),
  farm: async (file) => {
    const reply = (await host.server.call('farm.bringIn', { file })) as Answer
    if (reply.ok) await host.server.call('farm.open', { fileName: 'Creek.farm' })
    return reply
  },
}

/** As the command line reads a file of JSON. */
function asked({ name, base64 }: File, read: (json: unknown) => Answer): Answer {
  const json = readJson(Buffer.from(base64, 'base64').toString('utf8'), name)
  return json.ok ? read(json.value) : json
}

/** [ms] of work, for one file; a file that can hold up a reader takes more each time that it is read. */
const mostWork = 2000

async function expectAnswered(read: (file: File) => Promise<Answer>, name: string, bytes: Buffer, seed: string) {
  // The process does other work as well, such as collecting what all the files before left: once in 65,000 files that was 2 s.
  let spent = await answered(read, name, bytes, seed)
  for (let again = 0; again < 2 && spent >= mostWork; again += 1)
    spent = Math.min(spent, await answered(read, `${again} ${name}`, bytes, seed))
  slowest = Math.max(slowest, spent)
  fuzzed += 1
  expect(spent, seed).toBeLessThan(mostWork)
}

/** @returns [ms] of the processor's time, whatever else the machine does */
async function answered(read: (file: File) => Promise<Answer>, name: string, bytes: Buffer, seed: string) {
  const begun = process.cpuUsage()
  let waiting: NodeJS.Timeout | undefined
  const hung = new Promise<Answer>((resolve) => {
    waiting = setTimeout(() => resolve({ ok: false, problems: [{ code: 'it hangs' }] }), 30_000)
  })
  const reply = await Promise.race([read({ name, base64: bytes.toString('base64') }), hung])
  clearTimeout(waiting)
  const { user, system } = process.cpuUsage(begun)
  const codes = reply.ok ? [] : (reply.problems ?? []).map(({ code }) => code)
  expect(codes, seed).not.toContain('it hangs')
  expect(codes, seed).not.toContain('bug')
  expect(host.bugs, seed).toEqual([])
  return (user + system) / 1000
}

const tokens = [
  '"',
  ',',
  ';',
  '\t',
  '\r\n',
  '\r',
  '\u0000',
  '1.234,5',
  '1,234.5',
  '=cmd|x',
  '__proto__',
  '../../x',
  '<!ENTITY a "b">',
  '﻿',
  '9'.repeat(400),
  '{"',
  ']',
  'NaN',
  '-1e999',
  'PK\u0003\u0004',
  '\ud800',
]

/** One to eight changes of the kinds that disks, mailers, editors and ill will make. */
function mutated(bytes: Buffer, chance: Random): Buffer {
  let now = Buffer.from(bytes)
  for (let n = chance.whole(1, 8); n > 0; n -= 1) {
    const at = chance.whole(0, Math.max(0, now.length - 1))
    const length = chance.whole(1, Math.min(200, Math.max(1, now.length - at)))
    const kind = chance.whole(0, 6)
    if (now.length === 0) return now
    if (kind === 0) now[at] = (now[at] ?? 0) ^ (1 << chance.whole(0, 7))
    else if (kind === 1) now = now.subarray(0, at)
    else if (kind === 2) now = Buffer.concat([now.subarray(0, at), Buffer.from(chance.pick(tokens)), now.subarray(at)])
    else if (kind === 3) now = Buffer.concat([now.subarray(0, at), now.subarray(at + length)])
    else if (kind === 4) now = Buffer.concat([now.subarray(0, at), now.subarray(at, at + length), now.subarray(at)])
    else if (kind === 5) now.fill(chance.whole(0, 255), at, at + length)
    else {
      const from = chance.whole(0, Math.max(0, now.length - length))
      now.copyWithin(at, from, from + Math.min(length, now.length - at))
    }
  }
  return now
}

const csv = `Field,Planted,Rows,Water,Yield goal,Grown before,Nematodes
Creek,88,36,irrigated,"5,300",2026 corn; 2025 peanut,4
"Long ""Rows""",97.5,36,dryland,4 900,2026 cotton,
Élan,1.234,36,irrigated,4200,,12
`
const ring = [
  [-83, 31],
  [-83, 31.01],
  [-82.99, 31.01],
  [-82.99, 31],
  [-83, 31],
] as [number, number][]
const geojson = JSON.stringify({
  type: 'FeatureCollection',
  features: [
    {
      type: 'Feature',
      properties: { name: 'Creek Bottom', id: 7 },
      geometry: { type: 'Polygon', coordinates: [ring] },
    },
  ],
})
const kml = `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Placemark><name>Creek Bottom</name>
<Polygon><outerBoundaryIs><LinearRing><coordinates>${ring.map((point) => point.join(',')).join(' ')}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></Document></kml>`

const table = [
  ['Field', 'Planted', 'Water', 'Yield goal'],
  ['Creek', 88, 'irrigated', 5300],
  ['Hill', 40.5, 'dryland', null],
] as const

const load = {
  dealer: 'Burrow Bend Seed',
  arrivedOn: '2027-03-29',
  lots: [{ lotNumber: 'A 1', variety: 'Brindle', packs: 20, packPounds: 50 }],
}
const tinyProblem = { format: 'standwell-problem', version: 1, fields: [{ id: 'a', acres: 10 }], options: [] }

async function goodFiles(): Promise<[kind: string, name: string, bytes: Buffer, count: number][]> {
  const [headers, ...rows] = table
  const farm = (await host.server.call('farm.copyOut', {})) as { ok: true; value: File }
  return [
    ['table', 'fields.csv', Buffer.from(csv), 3500],
    ['table', 'utf16.csv', Buffer.from(`\ufeff${csv}`, 'utf16le'), 500],
    ['table', 'old.csv', Buffer.from(csv, 'latin1'), 500],
    [
      'table',
      'fields.xlsx',
      await writeXlsx(
        'Fields',
        [...headers],
        rows.map((row) => [...row]),
      ),
      1500,
    ],
    ['boundary', 'map.geojson', Buffer.from(geojson), 1500],
    ['boundary', 'map.kml', Buffer.from(kml), 1200],
    ['boundary', 'map.zip', shapefileZip('Creek Bottom', ring), 1200],
    ['season', 'small.season.json', Buffer.from(JSON.stringify(smallSeason())), 800],
    ['problem', 'problem.json', Buffer.from(JSON.stringify(tinyProblem)), 400],
    ['delivery', 'load.json', Buffer.from(JSON.stringify(load)), 400],
    ['farm', 'Brought.farm', Buffer.from(farm.value.base64, 'base64'), 100],
  ]
}

test('mutated files are read, or refused in words', limit(1800), async () => {
  let kindAt = 0
  for (const [kind, name, bytes, count] of await goodFiles()) {
    kindAt += 1
    // Each commit takes the next of them.
    const first = takesAll ? 0 : seedFor(name) % count
    for (let n = 0; n < count * times; n += 1) {
      const seed = kindAt * 1_000_000 + ((first + n) % (count * Math.max(1, times)))
      await expectAnswered(readers[kind]!, name, mutated(bytes, randomFrom(seed)), `${name}, seed ${seed}`)
    }
  }
  expect(fuzzed).toBeGreaterThanOrEqual(11_600 * times)
  expect(JSON.stringify(dumpOf(host.engine.farm!.connection))).toBe(before)
})

test.each(byHand)('%s', async (what, kind, name, make) => {
  const used = process.memoryUsage().rss
  await expectAnswered(readers[kind]!, name, make(), what)
  // [byte] Unpacked, a bomb would take 300 MB.
  expect(process.memoryUsage().rss - used).toBeLessThan(300 * 1024 * 1024)
  expect(JSON.stringify(dumpOf(host.engine.farm!.connection))).toBe(before)
})

test('line ends, marks and encodings read alike', async () => {
  const rowsOf = async (bytes: Buffer) => {
    const file = { name: 'f.csv', base64: bytes.toString('base64') }
    const reply = await host.must('import.look', { files: [file] })
    return reply.tables[0]!.rows.map(({ cells }) => cells)
  }
  const text = 'Field,Planted,Note\nCreek,88,Élan\nHill,40,\n'
  const plain = await rowsOf(Buffer.from(text))
  expect(plain).toEqual([
    ['Creek', '88', 'Élan'],
    ['Hill', '40', ''],
  ])
  for (const end of ['\r\n', '\r']) expect(await rowsOf(Buffer.from(text.replaceAll('\n', end)))).toEqual(plain)
  expect(await rowsOf(Buffer.from('Field,Planted,Note\r\nCreek,88,Élan\nHill,40,\r\n'))).toEqual(plain)
  expect(await rowsOf(Buffer.from(`\ufeff${text}`))).toEqual(plain)
  expect(await rowsOf(Buffer.from(`\ufeff${text}`, 'utf16le'))).toEqual(plain)
  expect(await rowsOf(Buffer.from(`\ufeff${text}`, 'utf16le').swap16())).toEqual(plain)
  expect(await rowsOf(Buffer.from(text, 'latin1'))).toEqual(plain)
})
