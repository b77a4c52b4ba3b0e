/** Turns what the schema library says about a file into problems with a place and a cure. */
import type * as v from 'valibot'
import { fail, ok, type Problem, type Result } from './problem.ts'
import { showShort } from './show.ts'

/** The most problems listed of one file; the rest are counted. */
const mostListed = 50

/**
 * Parses JSON text. A byte-order mark is allowed; anything else that is not JSON is one problem naming the line.
 */
export function readJson(text: string, file: string): Result<unknown> {
  try {
    return ok(JSON.parse(text.replace(/^\uFEFF/, '')) as unknown)
  } catch (error) {
    const line = lineOfFault(text, error)
    return fail({
      code: 'bad-file',
      what: `The file is not JSON: it breaks off or goes wrong in line ${line}.`,
      where: { file, path: `line ${line}` },
      remedy: 'Check that the whole file was copied; a JSON checker shows the spot.',
    })
  }
}

/**
 * The engine's message has a position for some faults only; for the others the longest beginning that could still
 * become JSON is found by halving.
 */
function lineOfFault(text: string, error: unknown): number {
  let at = positionIn(error)
  if (at === null) {
    let good = 0
    let bad = text.length
    while (bad - good > 1) {
      const middle = (good + bad) >> 1
      if (couldGoOn(text.slice(0, middle))) good = middle
      else bad = middle
    }
    at = good
  }
  // A text that breaks off does so in its last line with anything in it, not in the empty one after.
  return text.trimEnd().slice(0, at).split('\n').length
}

function positionIn(error: unknown): number | null {
  const match = /position (\d+)/.exec(error instanceof Error ? error.message : '')
  return match === null ? null : Number(match[1])
}

function couldGoOn(beginning: string): boolean {
  try {
    JSON.parse(beginning)
    return true
  } catch (error) {
    const atEnd = (positionIn(error) ?? -1) >= beginning.length
    return atEnd || /end of JSON|Unterminated/.test(error instanceof Error ? error.message : '')
  }
}

/** One problem an issue, placed as `fields[3].acres`, with the thing's own name where it has one. */
export function problemsFrom(issues: readonly v.BaseIssue<unknown>[], raw: unknown, file?: string): Problem[] {
  const problems = issues.slice(0, mostListed).map((issue) => problemFrom(issue, raw, file))
  if (issues.length > mostListed) {
    problems.push({
      code: 'bad-value',
      what: `There are ${issues.length - mostListed} more problems.`,
      where: { file },
      remedy: 'Mend these first and try again.',
    })
  }
  return problems
}

function problemFrom(issue: v.BaseIssue<unknown>, raw: unknown, file?: string): Problem {
  const keys = (issue.path ?? []).map((item) => item.key as string | number)
  const path = keys.reduce<string>(
    (so, key) => (typeof key === 'number' ? `${so}[${key}]` : so === '' ? key : `${so}.${key}`),
    '',
  )
  const column = [...keys].reverse().find((key) => typeof key === 'string')
  const owner = ownerName(keys, raw)
  const isMissing = issue.received === 'undefined'
  const isUnknown = issue.type === 'strict_object' && issue.expected === 'never'
  const what = isUnknown
    ? `"${path}" is not known here.`
    : isMissing
      ? `${owner === undefined ? '' : `${owner} has `}no value for "${column ?? path}".`
      : `${owner === undefined ? '' : `${owner}: `}"${column ?? path}" ${tail(issue)}`
  return {
    code: isMissing ? 'missing' : isUnknown ? 'unknown-name' : 'bad-value',
    what: what.charAt(0).toUpperCase() + what.slice(1),
    where: {
      file,
      path: path === '' ? undefined : path,
      column: typeof column === 'string' ? column : undefined,
      name: owner,
    },
    remedy: isUnknown ? 'Remove it, or correct its name.' : isMissing ? 'Fill it in.' : 'Correct the value.',
  }
}

/** "must be …, not -5." Our own messages start with must; the library's are rewritten. */
function tail(issue: v.BaseIssue<unknown>): string {
  const ours = /^(must|is) /.test(issue.message) ? issue.message : `must be ${issue.expected ?? 'something else'}`
  return `${ours}, not ${show(issue.input)}.`
}

function show(value: unknown): string {
  if (typeof value === 'string') return `"${showShort(value, 41)}"`
  if (typeof value === 'number' || typeof value === 'boolean' || value === null) return String(value)
  return Array.isArray(value) ? 'a list' : typeof value === 'object' ? 'an object' : typeof value
}

/** The name of the innermost thing on the path that has one. */
function ownerName(keys: readonly (string | number)[], raw: unknown): string | undefined {
  let at: unknown = raw
  let found: string | undefined
  for (const key of keys) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, key)) break
    at = (at as Record<string | number, unknown>)[key]
    const own = typeof at === 'object' && at !== null ? (at as { name?: unknown; id?: unknown }) : undefined
    const title = own?.name ?? own?.id
    if (typeof title === 'string' && title.trim() !== '') found = title
  }
  return found
}
