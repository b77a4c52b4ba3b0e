/**
 * A farm's file on its way in or out of the window, in pieces: one call carries 8 MB, and a farm with pictures is larger. The
 * part that is here lies in a file of its own, is removed with the last piece or when another is begun, and is cleared at the next
 * start where Standwell was killed meanwhile.
 */
import { randomBytes } from 'node:crypto'
import { appendFileSync, closeSync, openSync, readSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { ProblemError, type Problem } from '../../../src-shared/problem.ts'
import { mostPieceBytes, type FilePlace } from '../../../src-shared/sheet/file-piece.ts'
import { onDisk } from '../db/disk-problem.ts'
import { isSqlite } from '../db/sqlite-header.ts'
import type { Engine } from '../engine.ts'
import { clearBuilding } from './beside.ts'

interface Half {
  /** Drawn at random: a piece of an earlier file does not fit. */
  readonly id: string
  readonly path: string
}

const coming = new WeakMap<Engine, Half>()
const going = new WeakMap<Engine, Half>()

/** Adds a piece to the file that comes in. @param after where the piece before ended; null: the first piece of a file */
export function takePiece(engine: Engine, after: FilePlace | null, bytes: Buffer): FilePlace {
  // Before a film of 3 GB fills the disk; the last piece is looked at with the whole file.
  if (after === null && !isSqlite(bytes)) throw new ProblemError([noFarm])
  return add(engine, after, bytes)
}

function add(engine: Engine, after: FilePlace | null, bytes: Buffer): FilePlace {
  return onDisk(engine.home, () => {
    if (after === null) dropIncoming(engine)
    const half = after === null ? begin(engine) : halfAt(coming.get(engine), after)
    try {
      appendFileSync(half.path, bytes)
    } catch (error) {
      dropIncoming(engine)
      throw error
    }
    return { id: half.id, at: statSync(half.path).size }
  })
}

/** The whole of the file that came in, with its last piece. It is the caller's now. @returns its path */
export function takeLastPiece(engine: Engine, after: FilePlace | null, bytes: Buffer): string {
  add(engine, after, bytes)
  const { path } = coming.get(engine) as Half
  coming.delete(engine)
  return path
}

/** Hands out a file that was made for it. @returns its first piece, and where the next begins */
export function handOut(engine: Engine, path: string): { bytes: Buffer; rest: FilePlace | null } {
  const half = { id: drawId(), path }
  going.set(engine, half)
  return handOutFrom(engine, { id: half.id, at: 0 })
}

/** The next piece. The same piece may be asked for again until the last was given. */
export function handOutFrom(engine: Engine, from: FilePlace): { bytes: Buffer; rest: FilePlace | null } {
  const half = going.get(engine)
  if (half?.id !== from.id) throw new ProblemError([notHere()])
  const piece = Buffer.alloc(mostPieceBytes)
  const file = openSync(half.path, 'r')
  let length: number
  try {
    length = readSync(file, piece, 0, piece.length, from.at)
  } finally {
    closeSync(file)
  }
  const at = from.at + length
  const isLast = at >= statSync(half.path).size
  if (isLast) dropOutgoing(engine)
  return { bytes: piece.subarray(0, length), rest: isLast ? null : { id: half.id, at } }
}

/** What is still here when another is asked for, or Standwell ends. */
export function dropOutgoing(engine: Engine): void {
  const half = going.get(engine)
  going.delete(engine)
  if (half) clearBuilding(half.path)
}

export function dropIncoming(engine: Engine): void {
  const half = coming.get(engine)
  coming.delete(engine)
  if (half) rmSync(half.path, { force: true })
}

const drawId = () => randomBytes(16).toString('hex')

function begin(engine: Engine): Half {
  const id = drawId()
  const half = { id, path: join(engine.home, `${id}.farm.part`) }
  writeFileSync(half.path, '', { flag: 'wx', mode: 0o600 })
  coming.set(engine, half)
  return half
}

/** Refuses a piece that was lost or came twice: what would be built is no farm. */
function halfAt(half: Half | undefined, after: FilePlace): Half {
  if (half?.id === after.id && statSync(half.path).size === after.at) return half
  throw new ProblemError([notHere()])
}

const noFarm: Problem = {
  code: 'bad-file',
  what: 'This file is not a Standwell farm.',
  remedy: 'Choose a file that Standwell made; its name ends in .farm.',
}

const notHere = (): Problem => ({
  code: 'missing',
  what: 'A piece of the file did not arrive, or another file was begun meanwhile.',
  remedy: 'Choose the file again.',
})
