/**
 * What a season teaches, as edits that are offered one by one; nothing is changed by it. The season speaks; the values are
 * those of the season that is written in, which may be the next.
 */
import { contextOf } from '../agronomy/context.ts'
import type { Season } from '../season.ts'
import { hourLessons, measureLessons } from './cost-lessons.ts'
import { priceLessons, varietyLessons } from './crop-lessons.ts'
import { emergenceLessons, pressureLessons, seedLessons } from './ground-lessons.ts'
import type { Lesson } from './lesson.ts'
import type { Reckoning } from './review.ts'

/** @param season the one that is written in */
export function lessonsOf(reckoning: Reckoning, season: Season): Lesson[] {
  const now = contextOf(season)
  return [
    ...emergenceLessons(reckoning, now),
    ...seedLessons(reckoning, now),
    ...varietyLessons(reckoning, now),
    ...pressureLessons(reckoning, now),
    ...priceLessons(reckoning, now),
    ...measureLessons(reckoning, now),
    ...hourLessons(reckoning, now),
  ]
}
