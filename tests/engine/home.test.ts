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
  expect(log).toMatch(/^\S+ field\.set\nTypeError: broken\n\s+at .*home\.test\.ts:\d+/)
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

test('past a megabyte the log is set aside, and only one is', () => {
  writeFileSync(join(folder, 'errors.log'), 'x'.repeat(1_000_001))
  noteBugIn(folder)('field.set', 'short')
  expect(statSync(join(folder, 'errors.log')).size).toBeLessThan(200)
  expect(statSync(join(folder, 'errors.old.log')).size).toBe(1_000_001)
})

test('a folder that cannot be written is no second fault', () => {
  expect(() => noteBugIn(join(folder, 'not', 'there'))('field.set', new Error('x'))).not.toThrow()
})
