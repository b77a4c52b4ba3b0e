/** A lesson: a value of winter that the season speaks against, what it saw, and how far that moves the value. */
import type { WorkingLine } from '../agronomy/working.ts'
import type { Book } from '../assumption.ts'

export const lessonKinds = [
  'emergence',
  'seed',
  'yield',
  'grade',
  'pressure',
  'price',
  'measure',
  'machine hour',
] as const
export type LessonKind = (typeof lessonKinds)[number]

/** What taking it writes, by names, so that it can be written in whichever season is open. */
export type LessonChange =
  | { to: 'book'; key: string; value: number }
  | { to: 'sheet'; sheet: 'field' | 'variety' | 'measure'; name: string; path: string; value: number | string }

export interface Lesson {
  /** The value that it is about; the same in every season. */
  key: string
  kind: LessonKind
  /** What it is about, as “Yield of Amber”. */
  about: string
  /** What was seen, in a sentence. */
  evidence: string
  /** As they are shown, with their unit. */
  old: string
  seen: string
  proposed: string
  /** [share] 0–1 that this season has against the old value. */
  weight: number
  change: LessonChange
  lines: WorkingLine[]
}

/** Said of a lesson; null: open. */
export type LessonState = 'taken' | 'set aside'

/** What was said of a lesson, as it is kept. */
export interface LessonWord {
  key: string
  state: LessonState
  about: string
  /** As they were shown when it was said. */
  old: string
  proposed: string
}

export interface LessonsNow {
  /** The season that speaks, and the one that is written in. */
  from: number
  into: number
  open: Lesson[]
  said: LessonWord[]
  worth: LessonWorth
}

/** How many fields, plantings or lots, and how many seasons, an old value counts as. */
export interface LessonWorth {
  fields: number
  seasons: number
}

/** From the house's book. */
export function lessonWorth(book: Book): LessonWorth {
  return {
    fields: book.number('lesson/old value counts as/fields'),
    seasons: book.number('lesson/old value counts as/seasons'),
  }
}

/**
 * Weight of what was seen: n / (n + k). With k as the worth of the old value in the same things, it is the mean of all.
 * @param count n ≥ 1 of what speaks @param worth k ≥ 0
 * @returns [share] 4 fields against a worth of 4 → 0.5
 */
export function weightOf(count: number, worth: number): number {
  return count / (count + worth)
}

/** The old value moved towards what was seen. 1, seen 1.2, weight 0.5 → 1.1 */
export function movedTo(old: number, seen: number, weight: number): number {
  return old + weight * (seen - old)
}
