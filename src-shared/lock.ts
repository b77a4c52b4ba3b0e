/** What the grower holds fixed: a field for one variety, or some acres of it in one planting week. */
import * as v from 'valibot'
import { between, isoDate, nameText } from './primitive.ts'
import { showAcres, showDate } from './show.ts'

export const lockSchema = v.strictObject({
  field: nameText,
  variety: nameText,
  window: v.optional(nameText),
  /** Monday of the planting week, ISO date. */
  week: v.optional(isoDate),
  /** [acre] At least so many; absent, or no fewer than the field has: the whole field, with nothing else on it. */
  acres: v.optional(between(0.01, 1e6)),
})

export type Lock = v.InferOutput<typeof lockSchema>

type Held = Pick<Lock, 'field' | 'variety'> & { [Name in 'window' | 'week' | 'acres']?: Lock[Name] | undefined }

/** A field may be held in several weeks, or in several varieties, for some of its acres each. */
export function lockId({ field, variety, week, acres }: Held): string {
  return `lock/${field}/${variety}${acres === undefined ? '' : `/${week ?? ''}`}`
}

/** “40.7 acres of East Pivot are kept for Linden in the week of Apr 26.” */
export function sayLock({ field, variety, window, week, acres }: Held): string {
  const ground = acres === undefined ? `${field} is` : `${showAcres(acres)} acres of ${field} are`
  const inWindow = window === undefined ? '' : ` in the ${window} window`
  const inWeek = week === undefined ? '' : ` in the week of ${showDate(week)}`
  return `${ground} kept for ${variety}${inWindow}${inWeek}.`
}

/**
 * True for a lock that keeping acres of a block in a week takes the place of: of those weeks, of just these acres (the same part,
 * kept elsewhere before), or of another variety on the whole field.
 */
export function isReplaced(
  lock: Held,
  kept: { field: string; variety: string; weeks: readonly string[]; acres: number },
): boolean {
  if (lock.field !== kept.field) return false
  if (lock.variety !== kept.variety) return lock.acres === undefined
  if (lock.week === undefined) return false
  return kept.weeks.includes(lock.week) || Math.abs((lock.acres ?? Infinity) - kept.acres) < 0.005
}
