/**
 * Where a command writes what it was asked for: whole or not at all, and never over a farm or over what the command read. An older
 * file of the same kind is replaced, as by any command.
 */
import { closeSync, openSync, readSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { basename } from 'node:path'
import type { Problem } from '../../src-shared/problem.ts'
import { farmEnding } from './backup-path.ts'
import { isSqlite } from './db/sqlite-header.ts'
import { identityOf } from './keeper/identity.ts'

/** @param inputs files that the command read. @returns why it was not written; null where it was */
export function writeOutput(path: string, text: string, inputs: readonly string[]): Problem | null {
  try {
    const there = statSync(path, { throwIfNoEntry: false })
    // A pipe or a device.
    if (there && !there.isFile()) {
      writeFileSync(path, text)
      return null
    }
    if (there && inputs.some((input) => identityOf(input) === identityOf(path)))
      return kept(path, 'is the file that this command reads')
    if (path.toLowerCase().endsWith(farmEnding) || (there && isDatabase(path))) return kept(path, 'is a farm')
    writeWhole(path, text)
    return null
  } catch (error) {
    return notWritten(path, error)
  }
}

function writeWhole(path: string, text: string): void {
  const building = `${path}.part`
  try {
    writeFileSync(building, text, { flush: true })
    renameSync(building, path)
  } catch (error) {
    rmSync(building, { force: true })
    throw error
  }
}

function isDatabase(path: string): boolean {
  const start = Buffer.alloc(16)
  const file = openSync(path, 'r')
  try {
    readSync(file, start, 0, 16, 0)
  } finally {
    closeSync(file)
  }
  return isSqlite(start)
}

const kept = (path: string, what: string): Problem => ({
  code: 'bad-file',
  what: `“${basename(path)}” ${what}; it is not replaced.`,
  where: { file: basename(path) },
  remedy: 'Give --out another name.',
})

function notWritten(path: string, error: unknown): Problem {
  return {
    code: 'bad-file',
    what: `It could not be written: ${(error as NodeJS.ErrnoException).code ?? 'unknown reason'}.`,
    where: { file: basename(path) },
    remedy: 'Choose another place for it.',
  }
}
