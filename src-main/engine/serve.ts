/**
 * The one door to the engine. Every host hands its calls here and nothing else may run a handler: the name is
 * looked up, the input checked, writers queued, a change wrapped in one transaction and one undo step, errors
 * turned into Problems and changed tables announced. Knows no SQL beyond BEGIN, COMMIT and ROLLBACK.
 */
import * as v from 'valibot'
import type { Reply, TableName } from '../../src-shared/api.ts'
import { api } from '../../src-shared/api.ts'
import type { Problem } from '../../src-shared/problem.ts'
import { fail, ProblemError } from '../../src-shared/problem.ts'
import { backUpWhenDue, isKept } from './backups.ts'
import { diskProblem } from './db/disk-problem.ts'
import { inRead, inTransaction } from './db/transaction.ts'
import type { Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'
import { farmAtHand } from './recent.ts'
import { handlers } from './handlers.ts'
import { letGo } from './keeper/closing.ts'
import { dropIncoming, dropOutgoing } from './keeper/pieces.ts'
import { closeReader, fileReads } from './reading-files.ts'

export interface Server {
  call(name: string, input: unknown): Promise<Reply>
  /** Refuses what comes after, waits for the writer at work, closes the farm. */
  close(): Promise<void>
}

/** What a call gave, and the farm's revision that holds it. */
interface Done {
  value: unknown
  revision: number
}

/** The schema library takes an array for an object without required keys; the contract does not. */
const objectOnly = v.custom<unknown>(
  (given) => typeof given === 'object' && given !== null && !Array.isArray(given),
  'an object is expected',
)

/** One entry of the contract, with its types worn off: here a call is data. */
interface Entry {
  kind: 'read' | 'change' | 'task'
  input: v.GenericSchema
  tables: readonly TableName[]
  undo?: string | ((input: never) => string)
  inAnySeason?: true
  notInCopy?: true
  touches?: (input: never) => readonly TableName[]
  beside?: true
}
type Handler = (engine: Engine, input: never, file: never) => unknown

export interface Calls {
  entries: Record<string, Entry>
  handlers: Record<string, Handler>
  /** Reads the file that a call brings before the call has its turn, so that no other call waits for it. */
  fileReads?: Record<string, (engine: Engine, input: never) => Promise<unknown>>
}

export function createServer(engine: Engine, calls: Calls = { entries: api, handlers, fileReads }): Server {
  let closed = false
  let reading: Promise<unknown> = Promise.resolve()

  /** When its turn has come: what was asked before it may have gone to another season. */
  function mustTake(entry: Entry): void {
    const only = engine.farm === null ? null : onlyToRead(engine.farm, entry)
    if (only !== null) throw new ProblemError([only])
  }

  async function changed(entry: Entry, input: unknown, work: () => unknown): Promise<Done> {
    const value = await work()
    if (announced(entry, input).length > 0) engine.revision += 1
    return { value, revision: engine.revision }
  }

  function change(entry: Entry, input: unknown, work: () => unknown): Promise<Done> {
    return engine.alone(() => {
      // Before a transaction is begun, which a disk that takes nothing would refuse in its own words.
      mustTake(entry)
      return changed(entry, input, () => inTransaction(farmAtHand(engine).connection, labelOf(entry, input), work))
    })
  }

  /** In the order asked, one whole before the next begins: what a page shows is asked first and need not wait for the rest. */
  function read(work: () => unknown): Promise<Done> {
    const look = async (): Promise<Done> => {
      // Before the look: what is committed while it reads, and cannot be by a transaction, is asked for again.
      const { revision } = engine
      return { value: await work(), revision }
    }
    const turn = reading.then(() => (engine.farm === null ? look() : inRead(engine.farm.connection, look)))
    reading = turn.catch(() => undefined)
    return turn
  }

  function run(entry: Entry, input: unknown, work: () => unknown): Promise<Done> {
    if (entry.kind === 'change') return change(entry, input, work)
    if (entry.kind === 'read') return read(work)
    const task = () => changed(entry, input, work)
    return entry.beside ? task() : engine.alone(task)
  }

  async function call(name: string, given: unknown): Promise<Reply> {
    if (closed) return fail(stopped)
    const entry = Object.hasOwn(calls.entries, name) ? calls.entries[name] : undefined
    const handler = Object.hasOwn(calls.handlers, name) ? calls.handlers[name] : undefined
    if (!entry || !handler) return fail(unknownCall(name))
    const checked = v.safeParse(v.pipe(objectOnly, entry.input), given)
    if (!checked.success) return fail(...checked.issues.slice(0, 20).map((issue) => badValue(name, issue)))
    try {
      const { fileReads } = calls
      const reads = fileReads && Object.hasOwn(fileReads, name) ? fileReads[name] : undefined
      const file = await reads?.(engine, checked.output as never)
      const { value, revision } = await run(entry, checked.output, () => {
        mustTake(entry)
        return handler(engine, checked.output as never, file as never)
      })
      announce(entry, checked.output, revision)
      // What stands in its way was told to whoever made the change, or is told to the next.
      if (entry.kind === 'change') engine.alone(backUp).catch(() => undefined)
      return { ok: true, value, revision } as Reply
    } catch (error) {
      // A task that failed half-way may still have closed or opened a file.
      if (entry.kind === 'task') announce(entry, checked.output, (engine.revision += 1))
      if (error instanceof ProblemError) return fail(...error.problems)
      const disk = diskProblem(engine.farm?.path ?? engine.home, error)
      if (disk !== null) return fail(disk)
      engine.noteBug(name, error)
      return fail(bug(name, entry))
    }
  }

  function announce(entry: Entry, input: unknown, revision: number) {
    const tables = announced(entry, input)
    if (tables.length > 0) engine.say({ kind: 'changed', tables, revision })
  }

  /** After the reply: nobody waits for it. */
  function backUp() {
    const { farm } = engine
    if (farm === null || !isKept(farm) || !backUpWhenDue(farm, new Date(), engine.noteBug)) return
    engine.say({ kind: 'changed', tables: ['backup'] })
  }

  async function close() {
    closed = true
    await closeReader(engine)
    dropIncoming(engine)
    dropOutgoing(engine)
    // A farm that another program took away is kept by `alone` itself, and closed then.
    await engine
      .alone(() => letGo(engine))
      .catch((error: unknown) => {
        if (!(error instanceof ProblemError)) throw error
        letGo(engine)
      })
  }

  return { call, close }
}

/** The tables that a call has changed, as windows know them. */
function announced(entry: Entry, input: unknown): TableName[] {
  if (entry.kind === 'read') return []
  const touched = entry.touches?.(input as never) ?? entry.tables
  return entry.undo ? [...new Set([...touched, 'undo' as const])] : [...touched]
}

/** Words for the undo menu; null where there is nothing to take back. The record takes 80 characters. */
function labelOf({ undo }: Entry, input: unknown): string | null {
  const label = typeof undo === 'function' ? undo(input as never) : (undo ?? null)
  return label === null ? null : [...label].slice(0, 80).join('')
}

/** Why the farm that is open does not take the call: what is at hand is only to be read. Null where it may be made. */
function onlyToRead(farm: OpenFarm, entry: Entry): Problem | null {
  if (!farm.isReadOnly) return null
  if (farm.refusal !== null)
    return entry.kind === 'change' || writesSeason(entry) || entry.notInCopy ? toLook(farm) : null
  if (farm.copyOf !== null) return writesSeason(entry) || entry.notInCopy ? onlyCopy : null
  return writesSeason(entry) ? closedSeason : null
}

/** A task that announces no table leaves the season as it is. */
function writesSeason({ kind, tables, inAnySeason }: Entry): boolean {
  return kind !== 'read' && tables.length > 0 && inAnySeason !== true
}

const closedSeason: Problem = {
  code: 'closed-season',
  what: 'This season is over: it can be read for ever, and is not changed any more.',
  remedy: 'Go to the open season, at the top of the window, and change it there.',
}

function toLook({ refusal }: OpenFarm): Problem {
  return {
    code: 'closed-season',
    what: `This farm can only be looked at: ${refusal?.what ?? ''}`,
    remedy: 'Make room on the disk or see that it may be written on, then close the farm and open it again.',
  }
}

const onlyCopy: Problem = {
  code: 'closed-season',
  what: 'This is a copy to look at: the farm itself is open in another Standwell.',
  remedy: 'Change it there, or close it there and open it here.',
}

const stopped: Problem = {
  code: 'engine-stopped',
  what: 'Standwell is closing.',
  remedy: 'Start Standwell again; everything entered before is saved.',
}

function unknownCall(name: string): Problem {
  return {
    code: 'unknown-call',
    what: `There is no call named “${String(name).slice(0, 80)}”.`,
    remedy: 'Reload the window; if that does not help, install Standwell again.',
  }
}

function badValue(name: string, issue: v.BaseIssue<unknown>): Problem {
  const path = v.getDotPath(issue) ?? undefined
  return {
    code: 'bad-value',
    what: `${path === undefined ? 'The input' : `The value of “${path}”`} does not fit ${name}: ${issue.message}.`,
    where: path === undefined ? undefined : { path },
    remedy: 'Enter a value that the column takes.',
  }
}

function bug(name: string, entry: Entry): Problem {
  return {
    code: 'bug',
    what: `Standwell made a mistake of its own in ${name}.`,
    remedy:
      entry.kind === 'change'
        ? 'Nothing was changed. Try once more; if it happens again, report it with the file errors.log.'
        : 'Try once more; if it happens again, report it with the file errors.log.',
  }
}
