/** What SQLite and the system say of a file → what it means to a person. */
import { basename } from 'node:path'
import { ProblemError, type Problem } from '../../../src-shared/problem.ts'

/** @param found what the checks of SQLite and of the seal say; the first three are told */
export function damaged(path: string, found: readonly string[]): Problem {
  return {
    code: 'damaged',
    what: `“${basename(path)}” is damaged: ${found.slice(0, 3).join('; ')}.`,
    where: { file: basename(path) },
    remedy: 'Nothing was changed. Open the newest backup from the backups folder beside it.',
  }
}

/** What a failed opening, copy or creation means to a person; a fault of ours is thrown on. */
export function fileProblem(path: string, error: unknown): Problem {
  const problem = diskProblem(path, error)
  if (problem === null) throw error
  return problem
}

/** Work on a file: what the disk refuses comes out as a problem of that file. */
export function onDisk<Value>(path: string, work: () => Value): Value {
  try {
    return work()
  } catch (error) {
    if (error instanceof ProblemError) throw error
    throw new ProblemError([fileProblem(path, error)])
  }
}

/** Of what SQLite tells, these are faults of ours; all else comes from the disk or from what lies on it. */
const ours =
  /^SQLITE_(ERROR|INTERNAL|ABORT|CONSTRAINT|MISMATCH|MISUSE|RANGE|TOOBIG|SCHEMA|AUTH|EMPTY|FORMAT|NOLFS|INTERRUPT|NOMEM)/

/** What the disk's refusal means to a person; null where it was not the disk. Every code of the system and SQLite's is one. */
export function diskProblem(path: string, error: unknown): Problem | null {
  const where = { file: basename(path) }
  const name = `“${basename(path)}”`
  const { code: given, errno, syscall } = (error ?? {}) as { code?: unknown; errno?: unknown; syscall?: unknown }
  const code = typeof given === 'string' ? given : ''
  if (/^SQLITE_(BUSY|LOCKED)/.test(code)) return inUse(path)
  if (/^SQLITE_(CORRUPT|NOTADB)/.test(code)) return damaged(path, [error instanceof Error ? error.message : code])
  if (code === 'ENOENT') {
    const remedy = 'It may have been moved or renamed: look for it and open it there.'
    return { code: 'bad-file', what: `There is no file ${name}.`, where, remedy }
  }
  if (/^(SQLITE_FULL|ENOSPC|EDQUOT)/.test(code)) {
    const remedy = 'Make room on it and try again; all that was entered before is saved.'
    return { code: 'bad-file', what: `The disk of ${name} is full.`, where, remedy }
  }
  if (code === 'ENAMETOOLONG')
    return {
      code: 'bad-file',
      what: `The name ${name} is too long for this disk.`,
      where,
      remedy: 'Choose a shorter name.',
    }
  if (code === 'ELOOP') {
    const remedy = 'Delete the link, and open the file where it really is.'
    return { code: 'bad-file', what: `${name} is a link that leads back to itself.`, where, remedy }
  }
  if (
    code.startsWith('SQLITE_')
      ? ours.test(code)
      : errno === undefined && syscall === undefined && !/^E[A-Z0-9]+$/.test(code)
  )
    return null
  const remedy = 'Check that the disk has room and that the folder may be written in, and try again.'
  return {
    code: 'bad-file',
    what: `${name} cannot be read and written here (${code || String(errno)}).`,
    where,
    remedy,
  }
}

/** What a second opener is told. */
export function inUse(path: string): Problem {
  return {
    code: 'in-use',
    what: `“${basename(path)}” is open in another Standwell.`,
    where: { file: basename(path) },
    remedy: 'Close it there first, or work on a copy.',
  }
}
