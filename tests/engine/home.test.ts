/** One data folder for every host, and a log of bugs that never grows without end nor fails itself. */
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { homedir, tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { dataHome, lastBugs, noteBugIn } from '../../src-main/engine/home.ts'

const folder = mkdtempSync(join(tmpdir(), 'standwell-log-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('the data folder', () => {
  test.each<[string, NodeJS.ProcessEnv, string, string]>([
    ['named', { STANDWELL_HOME: 'farms', XDG_DATA_HOME: '/x' }, 'linux', resolve('farms')],
    ['Linux with XDG', { XDG_DATA_HOME: '/x' }, 'linux', join('/x', 'standwell')],
    ['Linux', {}, 'linux', join(homedir(), '.local', 'share', 'standwell')],
    ['macOS', {}, 'darwin', join(homedir(), 'Library', 'Application Support', 'standwell')],
    ['Windows', { APPDATA: '/roaming' }, 'win32', join('/roaming', 'standwell')],
  ])('%s', (_name, env, platform, home) => expect(dataHome(env, platform)).toBe(home))
})

test('a bug is kept with its call and particulars', () => {
  noteBugIn(folder)('field.set', new TypeError('broken'))
  const log = readFileSync(join(folder, 'errors.log'), 'utf8')
  expect(log).toMatch(/^\S+ field\.set\nTypeError\n\s+at .*home\.test\.ts:\d+/)
})

test('no word of the farm gets into it, nor a path of the machine', () => {
  noteBugIn(folder)('field.set', new Error('Creek Bottom was not stored'))
  noteBugIn(folder)('field.set', 'Creek Bottom')
  noteBugIn(folder)('field.set', new SyntaxError('Unexpected token in "Creek Bottom"'))
  const log = readFileSync(join(folder, 'errors.log'), 'utf8')
  expect(log).not.toContain('Creek')
  expect(log).toContain('SyntaxError\n')
  expect(log).not.toContain(homedir())
  expect(log).not.toMatch(/at .*[\\/].*home\.test/)
  expect(lastBugs(folder)).toBe(log)
})

/** Names as people give them, and as somebody who wants to be remembered would. */
const hostileNames = [
  'Creek Bottom',
  "Müller's “Long” Field",
  'Creek\n    at Bottom (src-main/engine/creek.ts:1:1)',
  'Creek\r\nBottom',
  '"; DROP TABLE creek; --',
  'C:\\Users\\creek\\My Farms\\Bottom.farm',
  '/home/creek owner/My Farms/Bottom.farm',
  'file:///home/creek/src-main/engine/bottom.ts:1:1',
  '${creek}',
  '小溪底',
  'creek\u0000bottom',
  'x'.repeat(5000),
]

/** Every kind of fault in which a name was ever found. */
const faultsWith = (name: string): unknown[] => {
  const made: unknown[] = [
    name,
    { name },
    new Error(name),
    new TypeError(`Cannot read properties of undefined (reading '${name}')`),
  ]
  const thrown = (work: () => unknown) => {
    try {
      work()
    } catch (error) {
      made.push(error)
    }
  }
  thrown(() => JSON.parse(name) as unknown)
  thrown(() => new URL(name))
  thrown(() => readFileSync(join(folder, name, name)))
  thrown(() => (({}) as Record<string, () => void>)[name]!())
  thrown(() => new Intl.NumberFormat(name))
  thrown(() => decodeURIComponent(`${name}%`))
  thrown(() => ({ [name]: () => { throw new Error(name) } })[name]!()) // prettier-ignore
  const named = new Error(name)
  named.name = name
  Object.assign(named, { code: name })
  const stacked = new Error('plain')
  // As an engine writes a function that is named after a key.
  stacked.stack = `Error: plain\n    at Object.${name.split('\n')[0]} (/any/src-main/engine/fields.ts:1:1)`
  const sqlite = Object.assign(new Error(`no such column: ${name}`), { name: 'SqliteError', code: 'SQLITE_ERROR' })
  return [...made, named, stacked, sqlite, new AggregateError([new Error(name)], name, { cause: name })]
}

test.each(hostileNames)('keeps no word of the name %j, whatever fault holds it', (name) => {
  rmSync(join(folder, 'errors.log'), { force: true })
  const faults = faultsWith(name)
  expect(faults.length).toBeGreaterThan(10)
  for (const fault of faults) noteBugIn(folder)('field.set', fault)
  const log = lastBugs(folder)
  // The test's own functions are among the places; nothing else may be there than what each line is made of.
  const line =
    /^(\S+Z field\.set|string|object|[A-Z]\w*Error( [A-Z_]+)?(: [A-Za-z ]+)?|Error( [A-Z_]+)?| {4}at [\w.:/-]+:\d+:\d+|)$/
  for (const each of log.split('\n').slice(1)) expect(each).toMatch(line)
  // Words of the names that no place in the program has.
  for (const word of ['creek', 'bottom', 'müller', 'users', 'my farms', 'owner', '小溪底', 'xxxx'])
    expect(log.toLowerCase()).not.toContain(word)
})

test('past a megabyte the log is set aside, and only one is', () => {
  writeFileSync(join(folder, 'errors.log'), 'x'.repeat(1_000_001))
  noteBugIn(folder)('field.set', 'short')
  expect(statSync(join(folder, 'errors.log')).size).toBeLessThan(200)
  expect(statSync(join(folder, 'errors.old.log')).size).toBe(1_000_001)
})

test('a folder that cannot be written is no second fault', () => {
  expect(() => noteBugIn(join(folder, 'not', 'there'))('field.set', new Error('x'))).not.toThrow()
})
