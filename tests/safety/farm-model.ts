/**
 * A farm as it must be after any sequence of what a person, a full disk, a kill and other programs do: which fields were
 * acknowledged, under which name, and what each backup holds. Its actions are run against the real engine in its own process.
 * Long because it is one list of all that can happen to a file.
 */
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { expect } from 'vitest'
import type { Problem } from '../../src-shared/problem.ts'
import type { SmallDisk } from '../support/small-disk.ts'
import { startChild, type EngineChild } from './engine-child.ts'
import type { Random } from '../plan/random.ts'

export interface Model {
  home: string
  disk: SmallDisk | null
  chance: Random
  child: EngineChild
  /** Name of the farm's file. */
  file: string
  isOpen: boolean
  /** The disk is filled: what is asked may be refused. */
  isFull: boolean
  /** Acknowledged, and not taken back. */
  fields: Set<string>
  /** One that was sent and not answered: there or not. */
  unsure: string | null
  /** Edits that undo takes back, the last last; null where that is not known. */
  steps: string[] | null
  /** What each backup holds, by its file. */
  backups: Map<string, Set<string>>
  /** What was done, for a failure to tell. */
  done: string[]
  edits: number
}

type Action = (model: Model) => Promise<void>

export async function newModel(home: string, disk: SmallDisk | null, chance: Random): Promise<Model> {
  mkdirSync(home, { recursive: true })
  const child = await startChild(home)
  await child.must('farm.start', { name: 'Creek', season: 2027 })
  return {
    home,
    disk,
    chance,
    child,
    file: 'Creek.farm',
    isOpen: true,
    isFull: false,
    fields: new Set(),
    unsure: null,
    steps: [],
    backups: new Map(),
    done: [],
    edits: 0,
  }
}

const place = ({ home, file }: Model, ending = '') => join(home, file + ending)
const folderOf = (model: Model) => join(model.home, `${model.file.replace(/\.farm$/, '')} backups`)

const added = (name: string, big: boolean) => ({
  sheet: 'field' as const,
  says: `Add ${name}`,
  added: [
    { key: 1, values: { name, acres: 40, water: 'dryland', yieldGoalLb: 4000, note: 'x'.repeat(big ? 990 : 9) } },
  ],
})

/** Told in words, and never as a bug; on a disk with room nothing is refused but what the action expects. */
function refusedInWords(model: Model, problems: readonly Problem[], expected: readonly string[] = []): void {
  const codes = problems.map(({ code }) => code)
  expect(codes).not.toContain('bug')
  expect(problems[0]?.what).toMatch(/[a-z].*\./)
  if (!model.isFull) expect(expected, JSON.stringify(problems)).toContain(codes[0])
}

async function edit(model: Model): Promise<void> {
  const name = `F${(model.edits += 1)}`
  const reply = await model.child.call('sheet.change', added(name, model.chance.whole(0, 3) === 0))
  if (reply?.ok) {
    model.fields.add(name)
    model.steps?.push(name)
  } else refusedInWords(model, reply?.problems ?? [])
}

async function undo(model: Model): Promise<void> {
  const last = model.steps?.at(-1)
  if (last === undefined) return
  const reply = await model.child.call('undo.back', {})
  if (!reply?.ok) return refusedInWords(model, reply?.problems ?? [])
  model.fields.delete(last)
  model.steps?.pop()
}

async function backUp(model: Model): Promise<void> {
  const reply = await model.child.call('backup.make', {})
  if (reply?.ok) model.backups.set(reply.value.fileName, new Set(model.fields))
  else refusedInWords(model, reply?.problems ?? [])
}

const knownBackups = (model: Model) =>
  existsSync(folderOf(model)) ? readdirSync(folderOf(model)).filter((name) => model.backups.has(name)) : []

async function goBack(model: Model): Promise<void> {
  const backup = model.chance.pick(knownBackups(model))
  const reply = await model.child.call('backup.restore', { fileName: model.file, backup })
  if (!reply?.ok) {
    refusedInWords(model, reply?.problems ?? [])
    return lookWhatIsOpen(model)
  }
  model.fields = new Set(model.backups.get(backup))
  model.steps = null
  model.isOpen = true
}

async function close(model: Model): Promise<void> {
  await model.child.must('farm.close', {})
  model.isOpen = false
}

async function open(model: Model): Promise<void> {
  if (model.isOpen) return
  const reply = await model.child.call('farm.open', { fileName: model.file })
  if (reply?.ok) model.isOpen = true
  else refusedInWords(model, reply?.problems ?? [])
}

async function rename(model: Model): Promise<void> {
  const name = `Farm ${model.chance.whole(1, 4)}`
  const reply = await model.child.call('farm.rename', { name })
  if (reply?.ok) model.file = reply.value.fileName
  else {
    refusedInWords(model, reply?.problems ?? [], ['repeated-name'])
    await lookWhatIsOpen(model)
  }
}

async function copyElsewhere(model: Model): Promise<void> {
  const path = join(model.home, 'copies', 'Copy.farm')
  mkdirSync(join(model.home, 'copies'), { recursive: true })
  const reply = await model.child.desk('desk.copyTo', { path })
  if (!reply?.ok) refusedInWords(model, reply?.problems ?? [])
  else expect(existsSync(path)).toBe(true)
}

/** After what failed: nothing is open only where the disk is full. */
async function lookWhatIsOpen(model: Model): Promise<void> {
  const reply = await model.child.call('farm.current', {})
  const now = reply?.ok ? reply.value : null
  model.isOpen = now !== null
  if (now !== null) model.file = now.fileName
}

async function fill(model: Model): Promise<void> {
  model.disk?.fill(model.chance.whole(0, 200) * 4096)
  model.isFull = true
  await Promise.resolve()
}

async function makeRoom(model: Model): Promise<void> {
  if (!model.isFull) return
  model.disk?.clear()
  model.isFull = false
  // What was opened to be looked at is opened anew, to be worked on.
  if (model.isOpen) await close(model)
}

async function kill(model: Model): Promise<void> {
  if (model.isOpen && model.chance.whole(0, 1) === 0) {
    const name = `F${(model.edits += 1)}`
    const answer = model.child.call('sheet.change', added(name, false))
    await pause(model.chance.whole(0, 6))
    model.child.kill()
    const reply = await answer
    if (reply?.ok) {
      model.fields.add(name)
      model.steps?.push(name)
    } else if (reply === null) {
      model.unsure = name
      model.steps = null
    }
  } else model.child.kill()
  await model.child.gone
  await restart(model)
}

async function restart(model: Model): Promise<void> {
  model.isOpen = false
  await makeRoom(model)
  model.child = await startChild(model.home)
  // The one that was open last is opened by the start itself.
  await lookWhatIsOpen(model)
}

/** What other programs do to the file of an open farm: it is noticed, and a copy is named that holds all of it. */
async function disturb(model: Model): Promise<void> {
  const kind = model.chance.whole(0, 4)
  model.done.push(`disturbed ${kind}`)
  const older = [...model.backups.keys()].map((name) => join(folderOf(model), name)).find((path) => existsSync(path))
  if (kind === 0) renameSync(place(model), join(model.home, `Moved ${model.done.length}.farm`))
  else if (kind === 1) rmSync(place(model))
  else if (older === undefined) return
  else if (kind === 2) copyFileSync(older, place(model))
  else if (kind === 3) {
    copyFileSync(older, join(model.home, 'synced'))
    renameSync(join(model.home, 'synced'), place(model))
  } else writeFileSync(place(model, '-wal'), readFileSync(place(model, '-wal')).subarray(0, 4200))
  const reply = await model.child.call('sheet.change', added(`F${(model.edits += 1)}`, false))
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'moved-away' }] })
  model.file = reply?.ok === false ? (reply.problems[0]?.where?.file ?? '') : ''
  model.isOpen = false
  model.backups = new Map()
}

/** The file manager renames the open farm, and then the power fails: its journal stays under the old name. */
async function renameAndKill(model: Model): Promise<void> {
  const name = `Moved ${model.done.length}.farm`
  renameSync(place(model), join(model.home, name))
  model.child.kill()
  await model.child.gone
  model.file = name
  model.backups = new Map()
  await restart(model)
}

/** What is left under a closed farm's name, or the farm under another: a journal or a seal of another farm. */
async function leaveBehind(model: Model): Promise<void> {
  const kind = model.chance.whole(0, 3)
  if (kind === 0 && !existsSync(place(model, '-wal'))) writeFileSync(place(model, '-wal'), strangeJournal)
  else if (kind === 1 && existsSync(place(model, '.sha256'))) rmSync(place(model, '.sha256'))
  else if (kind === 2 && !existsSync(place(model, '-wal'))) {
    const name = `Renamed ${model.done.length}.farm`
    if (existsSync(join(model.home, name))) return
    renameSync(place(model), join(model.home, name))
    model.file = name
    model.backups = new Map()
  } else if (kind === 3) {
    // Beside names that are free; what lies beside the farm itself may be its own.
    const journal = join(model.home, 'Farm 3.farm-wal')
    // Nor is one overwritten that a kill left there after a rename: that is the farm's own.
    if (model.file !== 'Farm 3.farm' && !existsSync(journal)) writeFileSync(journal, strangeJournal)
    const seal = `${'ab'.repeat(32)} farm-${'cd'.repeat(16)}\n`
    if (model.file !== 'Farm 4.farm') writeFileSync(join(model.home, 'Farm 4.farm.sha256'), seal)
  }
  await Promise.resolve()
}

let strangeJournal = Buffer.alloc(0)
/** The journal of another farm, as a killed engine left it. */
export async function makeStrangeJournal(home: string): Promise<void> {
  mkdirSync(home)
  const child = await startChild(home)
  await child.must('farm.start', { name: 'Strange', season: 2027 })
  await child.must('sheet.change', added('Strange', true))
  child.kill()
  await child.gone
  strangeJournal = readFileSync(join(home, 'Strange.farm-wal'))
}

/** The farm holds what was acknowledged, and no more; backups hold what they held. */
export async function check(model: Model): Promise<void> {
  if (!model.isOpen) return
  const reply = await model.child.call('field.list', {})
  const now = reply?.ok ? reply.value.map(({ name }) => name) : reply?.problems
  if (model.unsure !== null && Array.isArray(now) && (now as string[]).includes(model.unsure))
    model.fields.add(model.unsure)
  model.unsure = null
  expect([...(now ?? [])].sort()).toEqual([...model.fields].sort())
}

const isOpen = (model: Model) => model.isOpen
const isCalm = (model: Model) => !model.isFull

/** What is done, when it can be, and how often of all that can be. */
const actions: { name: string; can: (model: Model) => boolean; work: Action; weight: number }[] = [
  { name: 'edit', can: isOpen, work: edit, weight: 8 },
  { name: 'undo', can: (model) => model.isOpen && (model.steps?.length ?? 0) > 0, work: undo, weight: 2 },
  { name: 'back up', can: isOpen, work: backUp, weight: 3 },
  { name: 'go back', can: (model) => knownBackups(model).length > 0, work: goBack, weight: 1 },
  { name: 'close', can: isOpen, work: close, weight: 2 },
  { name: 'open', can: (model) => !model.isOpen, work: open, weight: 5 },
  { name: 'rename', can: isOpen, work: rename, weight: 3 },
  { name: 'copy', can: isOpen, work: copyElsewhere, weight: 1 },
  { name: 'fill the disk', can: (model) => model.disk !== null && !model.isFull, work: fill, weight: 3 },
  { name: 'make room', can: (model) => model.isFull, work: makeRoom, weight: 4 },
  { name: 'kill', can: () => true, work: kill, weight: 1 },
  { name: 'disturb', can: (model) => model.isOpen && isCalm(model), work: disturb, weight: 3 },
  { name: 'rename and kill', can: (model) => model.isOpen && isCalm(model), work: renameAndKill, weight: 1 },
  { name: 'leave behind', can: (model) => !model.isOpen && isCalm(model), work: leaveBehind, weight: 4 },
]

/** How often each was done, over all runs. */
export const counts = new Map<string, number>()

/** One action at random of those that can be done, and a look at what came of it. */
export async function step(model: Model): Promise<void> {
  const deck = actions
    .filter(({ can }) => can(model))
    .flatMap((action) => Array<typeof action>(action.weight).fill(action))
  const { name, work } = model.chance.pick(deck)
  counts.set(name, (counts.get(name) ?? 0) + 1)
  model.done.push(`${name}${model.isFull ? ' (full)' : ''}${model.isOpen ? '' : ' (closed)'}`)
  await work(model)
  await check(model)
}

/** With room on the disk the farm opens, whatever was done before. */
export async function finish(model: Model): Promise<void> {
  await makeRoom(model)
  await open(model)
  expect(model.isOpen).toBe(true)
  await check(model)
  await model.child.leave()
}
