/**
 * Every deed on files, broken at its first step, its second, … to its last: once, and from there on for good. Afterwards
 * the farm is as it was before or as it was meant to become, whole; nothing half-made bears a final name; and what went wrong
 * was told in words, not thrown at a person.
 */
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import type { Reply } from '../../src-shared/api.ts'
import { isUnchanged } from '../../src-main/engine/db/copy.ts'
import { createFarm, openFarm } from '../../src-main/engine/farm-file.ts'
import { engineAt, type TestEngine } from '../support/engine.ts'
import { makeOldFarm } from '../support/old-farm.ts'
import { isDrawn } from '../support/sampled.ts'
import { dumpOf, smallSeason } from '../support/open-file.ts'
import { breakDisk, deeds, questions } from './fault.mjs'

/** `npm run test:safety`: more of everything. */
const isLong = process.env.STANDWELL_SAFETY === 'long'

/** What systems, network drives and sticks are known to say, and one that none has said yet. */
const codes = [
  'EACCES',
  'EIO',
  'EMFILE',
  'ENFILE',
  'ESTALE',
  'ENXIO',
  'ENOTSUP',
  'EXDEV',
  'EINVAL',
  'UNKNOWN',
  'EROFS',
  'EDQUOT',
  'EBUSY',
  'EPERM',
  'ENODEV',
  'ETIMEDOUT',
  'ENAMETOOLONG',
  'ELOOP',
  'EREMOTEIO',
  'ESOMETHINGNEW',
]

/** Counted over all tests, for the figure in README. */
let injected = 0
afterAll(() => process.stdout.write(`faults injected: ${injected}\n`))

const scratch = mkdtempSync(join(tmpdir(), 'standwell-broken-'))
afterAll(() => rmSync(scratch, { recursive: true, force: true }))

/** A home with a farm that has a change since its backup, closed. Made once, copied for every fault. */
async function madeHome(): Promise<string> {
  const home = join(scratch, 'made')
  mkdirSync(home)
  const host = engineAt(home)
  const created = createFarm(join(home, 'Creek.farm'), smallSeason())
  if (!created.ok) throw new Error(JSON.stringify(created.problems))
  created.value.close()
  await host.must('farm.open', { fileName: 'Creek.farm' })
  await host.must('backup.make', {})
  await host.must('sheet.change', { sheet: 'field', says: 'Plant more', cells: [{ id: 1, path: 'acres', value: 61 }] })
  await host.close()
  return home
}

const made = await madeHome()

/** What the farm holds, opened as it lies there, whatever is wrong with its seal; and what is among its backups. */
function stateOf(home: string, name = 'Creek.farm'): string | null {
  if (!readdirSync(home).includes(name)) return null
  const opened = openFarm(join(home, name), true)
  if (!opened.ok) throw new Error(`It no longer opens: ${JSON.stringify(opened.problems)}`)
  const state = JSON.stringify(dumpOf(opened.value.connection))
  opened.value.close()
  return state
}

/** Every backup under a final name is whole, by its own hash. */
function expectWholeBackups(home: string, farm = 'Creek'): void {
  const folder = join(home, `${farm} backups`)
  const names = readdirSync(home).includes(`${farm} backups`) ? readdirSync(folder) : []
  for (const name of names.filter((each) => each.endsWith('.farm'))) {
    expect(names).toContain(`${name}.sha256`)
    expect(isUnchanged(join(folder, name))).toBe(true)
  }
}

interface Deed {
  name: string
  /** Brings the home to where the deed begins. */
  before?: (host: TestEngine, home: string) => Promise<unknown>
  work: (host: TestEngine) => Promise<Reply>
  /** Names that the farm may lie under afterwards. */
  names?: string[]
}

const open = (host: TestEngine) => host.must('farm.open', { fileName: 'Creek.farm' })
/** Found before any disk is broken. */
const madeBackup = readdirSync(join(made, 'Creek backups')).find((name) => name.endsWith('by hand.farm')) as string
const madeBytes = readFileSync(join(made, 'Creek.farm')).toString('base64')

const all: Deed[] = [
  { name: 'back up', before: open, work: (host) => host.call('backup.make', {}) },
  {
    name: 'go back',
    before: open,
    work: (host) => host.call('backup.restore', { backup: madeBackup }),
  },
  {
    name: 'go back, the farm being closed',
    work: (host) => host.call('backup.restore', { fileName: 'Creek.farm', backup: madeBackup }),
  },
  { name: 'open', work: (host) => host.call('farm.open', { fileName: 'Creek.farm' }) },
  {
    name: 'close after a change',
    before: async (host) => {
      await open(host)
      await host.must('sheet.change', { sheet: 'field', says: 'More', cells: [{ id: 1, path: 'acres', value: 62 }] })
    },
    work: (host) => host.call('farm.close', {}),
  },
  {
    name: 'rename',
    before: open,
    work: (host) => host.call('farm.rename', { name: 'Long Creek' }),
    names: ['Creek', 'Long Creek'],
  },
  {
    name: 'copy out',
    before: open,
    work: (host) => host.call('farm.copyOut', {}),
  },
  {
    name: 'bring in',
    work: (host) => host.call('farm.bringIn', { file: { name: 'Creek.farm', base64: madeBytes } }),
  },
  { name: 'start a farm', work: (host) => host.call('farm.start', { name: 'New', season: 2027 }) },
  {
    name: 'open a file of an earlier version',
    before: (_, home) => Promise.resolve(makeOldFarm(home)),
    work: (host) => host.call('farm.open', { fileName: 'Old.farm' }),
  },
]

let homes = 0

/** @returns how many steps the deed has, and whether this fault was ever reached */
async function run(deed: Deed, fault: { at: number; how: string; forever: boolean; reading?: boolean }) {
  const home = join(scratch, `home-${(homes += 1)}`)
  cpSync(made, home, { recursive: true })
  const host = engineAt(home)
  await deed.before?.(host, home)
  const disk = breakDisk({ ...fault, below: home })
  let reply
  try {
    reply = await deed.work(host)
  } finally {
    disk.undo()
  }
  const reached = fault.at > 0 && disk.done.length >= fault.at
  if (reached) injected += 1
  if (!reply.ok) {
    expect(reached).toBe(true)
    // Told in words; a bug of ours would be told as one.
    expect(reply.problems?.map(({ code }) => code)).not.toContain('bug')
    expect(reply.problems?.[0]?.what).toMatch(/[a-z]+.*\./)
  }
  expect(host.bugs.filter(({ call }) => call !== 'seal')).toEqual([])
  await host.close()
  const names = (deed.names ?? ['Creek']).filter((name) => stateOf(home, `${name}.farm`) !== null)
  expect(names).toHaveLength(1)
  const after = stateOf(home, `${names[0]}.farm`)
  for (const name of names) expectWholeBackups(home, name)
  for (const kept of readdirSync(home).filter((name) => name.endsWith('.farm'))) stateOf(home, kept)
  rmSync(home, { recursive: true, force: true })
  return { steps: disk.done.length, after, ok: reply.ok }
}

test.each(all)('$name, broken at every step', limit(120), async (deed) => {
  const whole = await run(deed, { at: 0, how: 'EIO', forever: false })
  expect(whole.ok).toBe(true)
  expect(whole.steps).toBeGreaterThan(0)
  const before = stateOf(made)
  const beginning = deed.name.startsWith('close') ? whole.after : before
  // In the whole set each step meets a full disk and one code more, of which each commit takes an eighth; in the long set every code.
  const all = ['ENOSPC', ...(isLong ? codes : ['another'])]
  for (const how of all) {
    for (const forever of how === 'another' ? [false] : [false, true]) {
      for (let at = 1; at <= whole.steps; at += 1) {
        if (!isDrawn(`${deed.name} ${how} ${forever}`, at, 8)) continue
        const code = how === 'another' ? (codes[(at + injected) % codes.length] as string) : how
        const { after, ok } = await run(deed, { at, how: code, forever })
        // As it was, or as it was meant to become.
        expect([beginning, whole.after]).toContain(after)
        if (ok && deed.name !== 'open') expect(after).toBe(whole.after)
      }
    }
  }
})

test.each(all)('$name, with every question to the disk refused', limit(120), async (deed) => {
  const whole = await run(deed, { at: 0, how: 'EIO', forever: false, reading: true })
  expect(whole.ok).toBe(true)
  expect(whole.steps).toBeGreaterThan(0)
  const beginning = deed.name.startsWith('close') ? whole.after : stateOf(made)
  for (const forever of [false, true]) {
    for (let at = 1; at <= whole.steps; at += 1) {
      if (!isDrawn(`${deed.name} asked ${forever}`, at, 8)) continue
      for (const how of isLong ? codes : [codes[(at + injected) % codes.length] as string]) {
        const { after, ok } = await run(deed, { at, how, forever, reading: true })
        expect([beginning, whole.after]).toContain(after)
        // Where the disk answers nothing any more, the farm may be shown from a copy, as it was.
        if (ok && !forever && deed.name !== 'open') expect(after).toBe(whole.after)
      }
    }
  }
})

test('what the sources do to files is what can be made to fail', () => {
  const names = readdirSync(new URL('../../src-main/engine', import.meta.url), { recursive: true, encoding: 'utf8' })
  const used = new Set<string>()
  for (const name of names.filter((each) => each.endsWith('.ts'))) {
    const text = readFileSync(new URL(`../../src-main/engine/${name}`, import.meta.url), 'utf8')
    const imported = /import \{([^}]*)\} from 'node:fs'/.exec(text)?.[1] ?? ''
    for (const each of imported.split(',')) if (each.trim() !== '') used.add(each.trim())
  }
  const known = [...deeds, ...questions, 'existsSync']
  expect([...used].filter((name) => !known.includes(name) && !name.startsWith('type '))).toEqual([])
})
