/**
 * An expected failure is a value with a place and a cure, never a thrown string.
 * Exceptions are for bugs; whatever a person can type, paste or load wrongly comes back as a list of these.
 */

export type ProblemCode =
  | 'bad-value' // a value that its column or the contract does not take
  | 'bad-file' // a file that is not what it says it is
  | 'future-version' // a file written by a later Standwell
  | 'unknown-name' // refers to something that is not there
  | 'repeated-name' // two of a thing that must be told apart
  | 'missing' // something needed is absent
  | 'changed-meanwhile' // the value that was to be changed is another by now
  | 'unknown-call' // a call the contract does not list
  | 'no-farm' // nothing is open
  | 'closed-season' // a season that is over is read, not changed
  | 'in-use' // another program holds the file
  | 'moved-away' // another program moved, replaced or changed the open file; where the copy is stands in `where.file`
  | 'damaged' // the file fails its checks
  | 'busy' // a plan is being worked out already
  | 'left-aside' // more than can be looked at: something was not considered, and is named
  | 'unusual' // may be right, and looks like a slip of typing: saved when confirmed
  | 'nothing-fits' // no plan satisfies the rules
  | 'engine-stopped' // the engine process went away
  | 'bug' // our fault: a check of our own failed

/** Where it is. Only what is known is filled in; `path` is the place inside a file, as `fields[3].acres`. */
export interface Place {
  file?: string
  path?: string
  row?: number
  table?: string
  id?: number
  column?: string
  name?: string
  rule?: string
}

export interface Problem {
  code: ProblemCode
  /** What happened, in a grower's words, one sentence. */
  what: string
  where?: Place
  /** What to do about it, one sentence. */
  remedy: string
}

export type Result<T> = { ok: true; value: T } | { ok: false; problems: Problem[] }

export function ok<T>(value: T): Result<T> {
  return { ok: true, value }
}

export function fail(...problems: Problem[]): { ok: false; problems: Problem[] } {
  return { ok: false, problems }
}

/** Carries problems through code that can only throw, such as a database transaction that must roll back. */
export class ProblemError extends Error {
  readonly problems: Problem[]
  constructor(problems: Problem[]) {
    super(problems.map((problem) => problem.what).join(' '))
    this.name = 'ProblemError'
    this.problems = problems
  }
}

/** The value, or its problems thrown to whoever catches a `ProblemError`: the engine's door, or a command's. */
export function valueOf<T>(result: Result<T>): T {
  if (result.ok) return result.value
  throw new ProblemError(result.problems)
}

/** One line for a terminal or a log: place, what, what to do. */
export function problemLine(problem: Problem): string {
  const { file, row, path, name } = problem.where ?? {}
  const place = [file, row === undefined ? undefined : `row ${row}`, path, name].filter((part) => part !== undefined)
  const lead = place.length > 0 ? `${place.join(', ')}: ` : ''
  return `${lead}${problem.what} ${problem.remedy}`
}
