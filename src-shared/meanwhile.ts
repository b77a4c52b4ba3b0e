/** A change says what was seen where it writes: one from a stale page must not undo another's. */
import { ProblemError, type Place, type Problem } from './problem.ts'

/**
 * @param now what is there
 * @param was what was seen; undefined: whatever it was
 * @returns why nothing is written, or null where what was seen is there still
 */
export function changedMeanwhile(now: unknown, was: unknown, where: Place): Problem | null {
  if (was === undefined || JSON.stringify(now ?? null) === JSON.stringify(was)) return null
  const isEmpty = now === null || now === undefined
  const how = isEmpty ? 'emptied' : typeof now === 'object' ? 'changed' : `changed to ${String(now)}`
  return {
    code: 'changed-meanwhile',
    what: `This was ${how} meanwhile.`,
    where,
    remedy: 'Look at the new value; type yours again if it still holds.',
  }
}

/** The same for values by name. Throws for the first that is another. */
export function mustBeAsSeen(now: object, was: object | undefined, where: Place): void {
  for (const [name, value] of Object.entries(was ?? {})) {
    const problem = changedMeanwhile((now as Record<string, unknown>)[name], value, { ...where, column: name })
    if (problem !== null) throw new ProblemError([problem])
  }
}
