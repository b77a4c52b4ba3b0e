/** How one value is offered: moved towards what was seen by the season's weight, rounded as it is kept, with its working. */
import type { Context } from '../agronomy/context.ts'
import { bookTerm, line, term, type WorkingLine } from '../agronomy/working.ts'
import { lessonWorth, movedTo, weightOf, type Lesson, type LessonChange, type LessonKind } from './lesson.ts'

export interface Asked {
  kind: LessonKind
  key: string
  about: string
  evidence: string
  unit: string
  old: number
  seen: number
  count: number
  speaks: 'fields' | 'seasons'
  decimals: number
  least: number
  most: number
  show: (value: number) => string
  change: (value: number) => LessonChange
  before?: WorkingLine[]
}

/** No lesson where the value, rounded as it is kept, stays what it is. */
export function offered(now: Context, asked: Asked): Lesson[] {
  const { old, seen, count, speaks, decimals, unit, show, about } = asked
  const worth = lessonWorth(now.book)[speaks]
  const weight = weightOf(count, worth)
  const held = Math.min(asked.most, Math.max(asked.least, movedTo(old, seen, weight)))
  const proposed = Number(held.toFixed(decimals))
  if (proposed === Number(old.toFixed(decimals))) return []
  const { kind, key, evidence } = asked
  const move = weight * (seen - old)
  const worthTerm = bookTerm(now.book, `lesson/old value counts as/${speaks}`, 'what the old value counts as')
  const lines = [
    ...(asked.before ?? []),
    line({
      id: 'all',
      label: 'What speaks, old and new together',
      value: count + worth,
      unit: speaks,
      rule: 'sum',
      terms: [term('this season', count, speaks), worthTerm],
    }),
    line({
      id: 'weight',
      label: 'Weight of this season',
      value: weight,
      unit: 'share',
      rule: 'over the last',
      terms: [term('this season', count, speaks), term('together', count + worth, speaks)],
    }),
    line({
      id: 'move',
      label: 'How far it moves the value',
      value: move,
      unit,
      rule: 'extra hours',
      terms: [term('seen', seen, unit), term('old value', old, unit), term('weight', weight, 'share')],
    }),
    line({
      id: 'proposed',
      label: `${about}, before rounding`,
      value: old + move,
      unit,
      rule: 'sum',
      terms: [term('old value', old, unit), term('move', move, unit)],
    }),
  ]
  const shown = { old: show(old), seen: show(seen), proposed: show(proposed) }
  return [{ key, kind, about, evidence, weight, lines, ...shown, change: asked.change(proposed) }]
}

export const mean = (values: readonly number[]) => values.reduce((sum, each) => sum + each, 0) / values.length
