/** Pounds that practices add: an inoculant on ground new to peanut, gypsum. Source of the examples: T17, T30. */
import { isPeanut } from '../crop.ts'
import type { Field } from '../field.ts'
import type { Measure } from '../threat.ts'

/** Seasons of a history that must be known before its ground counts as new to peanut. Our choice. */
const seasonsToBeNew = 4

/** True where a history of some length is known and has no peanut in it. */
export function isNewGround(field: Pick<Field, 'history'>): boolean {
  return (
    new Set(field.history.map(({ season }) => season)).size >= seasonsToBeNew &&
    !field.history.some(({ crop }) => isPeanut(crop))
  )
}

/** [lb/acre] that one practice adds on a field; 0 where none was entered. */
export function gainOn(field: Pick<Field, 'history'>, practice: Measure): number {
  const usual = practice.gainLb ?? 0
  return isNewGround(field) ? (practice.gainNewLb ?? usual) : usual
}

/** [lb/acre] of all practices of a program. */
export function gainOf(field: Pick<Field, 'history'>, practices: readonly Measure[]): number {
  return practices.reduce((sum, practice) => sum + gainOn(field, practice), 0)
}

/** [lb/acre] the most that practices can add: of each group the one that adds most. */
export function mostGain(field: Pick<Field, 'history'>, practices: readonly Measure[]): number {
  const byGroup = Map.groupBy(practices, ({ group }) => group)
  return [...byGroup.values()].reduce((sum, own) => sum + Math.max(...own.map((each) => gainOn(field, each))), 0)
}
