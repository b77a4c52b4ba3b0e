/** Remembers which farms were opened, so that a restart, of the engine or of the laptop, goes on with the last. */
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { ok, valueOf, type Result } from '../../src-shared/problem.ts'
import { farmOf, type Engine } from './engine.ts'
import { openFarm, type OpenFarm } from './farm-file.ts'

const fileName = 'recent.json'

/** How many are remembered. */
const most = 10

interface Note {
  lastFarm: string | null
  /** Paths, the farm opened last first; those of farms that were closed as well. */
  farms: string[]
}

/** Notes what is open now; null after closing. A disk that refuses costs the next start a click, and nothing now. */
export function rememberFarm(home: string, path: string | null): void {
  const file = join(home, fileName)
  const before = readNote(home).farms.filter((farm) => farm !== path)
  const note: Note = { lastFarm: path, farms: (path === null ? before : [path, ...before]).slice(0, most) }
  try {
    writeFileSync(`${file}.part`, `${JSON.stringify(note)}\n`, { mode: 0o600 })
    renameSync(`${file}.part`, file)
  } catch {
    // What is noted there may now name a farm that was closed: it is opened again, and can be closed again.
  }
}

/** Path of the farm that was open last, or null. */
export function lastFarm(home: string): string | null {
  const { lastFarm: path } = readNote(home)
  return path !== null && existsSync(path) ? path : null
}

/** Paths of farms that were opened and are there still, the last first. */
export function openedFarms(home: string): string[] {
  return readNote(home).farms.filter((path) => existsSync(path))
}

/** All that are remembered, also those whose file is gone: its backups may be there. */
export function rememberedFarms(home: string): string[] {
  return readNote(home).farms
}

/** A spoilt note is no more than a forgotten one. */
function readNote(home: string): Note {
  try {
    const note = JSON.parse(readFileSync(join(home, fileName), 'utf8')) as { [Key in keyof Note]?: unknown } | null
    const farms = Array.isArray(note?.farms) ? note.farms : []
    return {
      lastFarm: typeof note?.lastFarm === 'string' ? note.lastFarm : null,
      farms: farms.filter((path) => typeof path === 'string'),
    }
  } catch {
    return { lastFarm: null, farms: [] }
  }
}

/** Engines that have looked already: once closed, a farm stays closed until it is asked for. */
const hasLooked = new WeakSet<Engine>()

/** What an early look met with, for the first who asks. */
const unsaid = new WeakMap<Engine, Result<OpenFarm | null>>()

/** Opens the last farm before anybody asks: while a window is being painted. */
export function reopenEarly(engine: Engine): void {
  const opened = reopenLast(engine)
  if (!opened.ok) unsaid.set(engine, opened)
}

/** Opens the last farm again, once an engine. The problems say why it could not. */
export function reopenLast(engine: Engine): Result<OpenFarm | null> {
  const early = unsaid.get(engine)
  if (early && unsaid.delete(engine)) return early
  if (engine.farm || hasLooked.has(engine)) return ok(engine.farm)
  hasLooked.add(engine)
  const path = lastFarm(engine.home)
  if (path === null) return ok(null)
  const opened = openFarm(path)
  if (opened.ok) engine.farm = opened.value
  return opened
}

/** The open farm; right after a restart, the one that was open before, whatever the first call is. */
export function farmAtHand(engine: Engine): OpenFarm {
  return valueOf(reopenLast(engine)) ?? farmOf(engine)
}
