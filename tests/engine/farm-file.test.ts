/** One file a farm: who may open it, what is refused untouched, copies that are whole, a kill that loses nothing. */
import { spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import {
  closeSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
  writeSync,
} from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { latestVersion } from '../../migrations/index.ts'
import { applicationId, createDatabase } from '../../src-main/engine/db/connect.ts'
import { hashOf } from '../../src-main/engine/db/copy.ts'
import { copyFarm, createFarm, openFarm, type OpenFarm } from '../../src-main/engine/farm-file.ts'
import { dumpOf, newFarm, smallSeason, temporaryFolder } from '../support/open-file.ts'

function mustOpen(path: string): OpenFarm {
  const opened = openFarm(path)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  return opened.value
}

function codesOf(path: string): string[] {
  const opened = openFarm(path)
  if (opened.ok) opened.value.close()
  return opened.ok ? [] : opened.problems.map((problem) => problem.code)
}

/** A closed farm file. */
function closedFarm(): string {
  const farm = newFarm()
  farm.close()
  return farm.path
}

test('a new file carries the stamp, the version and the pragmas, and keeps FULL after a write', () => {
  const { connection } = newFarm()
  connection.exec('UPDATE field_season SET acres = 12 WHERE id = 1')
  const pragma = (name: string) => connection.pragma(name, { simple: true })
  expect(pragma('application_id')).toBe(applicationId)
  expect(pragma('user_version')).toBe(latestVersion)
  expect(pragma('journal_mode')).toBe('wal')
  expect(pragma('synchronous')).toBe(2)
  expect(pragma('foreign_keys')).toBe(1)
  expect(pragma('trusted_schema')).toBe(0)
  expect(pragma('cell_size_check')).toBe(1)
})

test('creating never replaces a file, and leaves nothing half-made', () => {
  const folder = temporaryFolder()
  const path = join(folder, 'Mine.farm')
  writeFileSync(path, 'a letter')
  expect(createFarm(path, smallSeason())).toMatchObject({ ok: false, problems: [{ code: 'repeated-name' }] })
  expect(readFileSync(path, 'utf8')).toBe('a letter')
  expect(readdirSync(folder)).toEqual(['Mine.farm'])
})

test('a file that is open is refused to a second opener, by whatever path it comes', () => {
  const farm = newFarm()
  expect(codesOf(farm.path)).toEqual(['in-use'])
  const link = join(temporaryFolder(), 'Link.farm')
  symlinkSync(farm.path, link)
  expect(codesOf(link)).toEqual(['in-use'])
  farm.connection.exec('UPDATE field_season SET acres = 13 WHERE id = 1')
  farm.close()
  const again = mustOpen(farm.path)
  expect(again.connection.prepare('SELECT acres FROM field_season WHERE id = 1').pluck().get()).toBe(13)
  again.close()
  again.close()
})

/** Another program with the file open, writing one row after another and saying each number once it is committed. */
const writer = `
  const Database = require(process.argv[1])
  const connection = new Database(process.argv[2])
  connection.pragma('locking_mode = EXCLUSIVE')
  connection.pragma('journal_mode = WAL')
  connection.pragma('synchronous = FULL')
  const put = connection.prepare("INSERT INTO crop_history (fieldId, year, crop) VALUES (1, 1950, ?)")
  for (let n = 1; ; n += 1) {
    put.run(String(n))
    require('node:fs').writeSync(1, n + '\\n')
  }`

test('a file open in another program is in use; killed, it leaves no lock and loses no acknowledged row', async () => {
  const path = closedFarm()
  const sqlite = createRequire(import.meta.url).resolve('better-sqlite3')
  for (let kills = 1; kills <= 5; kills += 1) {
    const other = spawn(process.execPath, ['-e', writer, sqlite, path], { stdio: ['ignore', 'pipe', 'inherit'] })
    let said = ''
    other.stdout.setEncoding('utf8')
    other.stdout.on('data', (text: string) => (said += text))
    await once(other.stdout, 'data')
    expect(codesOf(path)).toEqual(['in-use'])
    other.kill('SIGKILL')
    await once(other, 'close')
    const acknowledged = Number(said.trim().split('\n').at(-1))
    const farm = mustOpen(path)
    const kept = farm.connection
      .prepare('SELECT max(CAST(crop AS INTEGER)) FROM crop_history WHERE year = 1950')
      .pluck()
      .get()
    expect(kept).toBeGreaterThanOrEqual(acknowledged)
    farm.connection.exec('DELETE FROM crop_history WHERE year = 1950')
    farm.close()
  }
})

test('while it is open here, no other program can read or write it; once closed, it can', () => {
  const farm = newFarm()
  const sqlite = createRequire(import.meta.url).resolve('better-sqlite3')
  const script = `
    const connection = new (require(process.argv[1]))(process.argv[2], { timeout: 50 })
    try { console.log(connection.prepare('UPDATE farm SET name = name').run().changes) } catch (error) { console.log(error.code) }`
  const other = () => spawnSync(process.execPath, ['-e', script, sqlite, farm.path], { encoding: 'utf8' }).stdout.trim()
  expect(other()).toBe('SQLITE_BUSY')
  farm.close()
  expect(other()).toBe('1')
})

test.each<[string, (path: string) => void, string]>([
  ['an empty file', (path) => writeFileSync(path, ''), 'bad-file'],
  ['a text', (path) => writeFileSync(path, 'name,acres\nCreek,88\n'.repeat(20)), 'bad-file'],
  ['a folder', (path) => mkdirSync(path), 'bad-file'],
  ['nothing at all', () => undefined, 'bad-file'],
  [
    'a database of another program',
    (path) => {
      const other = createDatabase(path)
      other.pragma('application_id = 1234')
      other.exec('CREATE TABLE t (x)')
      other.close()
    },
    'bad-file',
  ],
  [
    'a file from a later Standwell',
    (path) => {
      copyFileSync(closedFarm(), path)
      const later = createDatabase(path)
      later.pragma(`user_version = ${latestVersion + 10}`)
      later.close()
    },
    'future-version',
  ],
])('%s is refused by name and not touched', (_name, make, code) => {
  const folder = temporaryFolder()
  const path = join(folder, 'Other.farm')
  make(path)
  const isFile = existsSync(path) && readdirSync(folder, { withFileTypes: true })[0]?.isFile()
  const before = isFile ? hashOf(path) : null
  const opened = openFarm(path)
  expect(opened).toMatchObject({ ok: false, problems: [{ code, where: { file: 'Other.farm' } }] })
  if (isFile) expect(hashOf(path)).toBe(before)
  expect(readdirSync(folder)).toEqual(existsSync(path) ? ['Other.farm'] : [])
})

test('damage is found on opening: cut short, or a page overwritten', () => {
  const whole = closedFarm()
  const size = readFileSync(whole).length
  const cut = join(temporaryFolder(), 'Cut.farm')
  writeFileSync(cut, readFileSync(whole).subarray(0, Math.floor(size / 2 / 4096) * 4096))
  expect(codesOf(cut)).toEqual(['damaged'])
  let found = 0
  const pages = Math.floor(size / 4096)
  for (let page = 1; page < pages; page += Math.ceil(pages / 20)) {
    const path = join(temporaryFolder(), 'Hurt.farm')
    copyFileSync(whole, path)
    const file = openSync(path, 'r+')
    writeSync(file, Buffer.alloc(4096, 0xa5), 0, 4096, page * 4096)
    closeSync(file)
    if (codesOf(path)[0] === 'damaged') found += 1
  }
  expect(found).toBeGreaterThanOrEqual(18)
})

test.each([
  ['a trigger', `CREATE TRIGGER sly AFTER UPDATE ON field_season BEGIN DELETE FROM quote; END`],
  ['a view', 'CREATE VIEW sly AS SELECT 1'],
  ['a table more', 'CREATE TABLE sly (x)'],
  ['a guard less', 'DROP TRIGGER lot_planted_is_kept'],
  ['a version that never was', `PRAGMA user_version = ${latestVersion - 5}`],
  ['no season', 'DELETE FROM season'],
])('a file that someone gave %s is refused', (_name, sql) => {
  const path = closedFarm()
  const hand = createDatabase(path)
  hand.exec(sql)
  hand.close()
  expect(codesOf(path)).toEqual(['damaged'])
})

test('a farm that its tables refuse, or that has no folder, is a problem and leaves nothing', () => {
  const folder = temporaryFolder()
  const season = { ...smallSeason(), farm: { name: '\u0000' } }
  expect(createFarm(join(folder, 'Nul.farm'), season)).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
  expect(createFarm(join(folder, 'no', 'No.farm'), smallSeason())).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file' }],
  })
  expect(readdirSync(folder)).toEqual([])
})

test('a copy goes to a free name only', () => {
  const farm = newFarm()
  const target = join(temporaryFolder(), 'Copy.farm')
  expect(copyFarm(farm, join(target, 'no', 'Copy.farm'))).toMatchObject({ ok: false, problems: [{ code: 'bad-file' }] })
  expect(copyFarm(farm, target).ok).toBe(true)
  expect(copyFarm(farm, target)).toMatchObject({ ok: false, problems: [{ code: 'repeated-name' }] })
  const copy = mustOpen(target)
  expect(dumpOf(copy.connection)).toEqual(dumpOf(farm.connection))
  copy.close()
})
