/**
 * The usual choice that yield goals refer to: the farm's usual variety, planted in its usual window at the usual rate, with
 * the usual spray program and rotation. What a goal already contains is worked out from it and not taken off again.
 */
import type { Book } from '../assumption.ts'
import type { Season } from '../season.ts'
import type { Water } from '../field.ts'
import type { Problem } from '../problem.ts'
import { vineClasses, yieldIndexOn, type VineClass } from '../variety.ts'
import type { Context } from './context.ts'
import type { PlantingWindow } from '../window.ts'

export interface UsualChoice {
  /** Null where the farm names none that it still has. */
  variety: string | null
  /** By disease or pest; one that is not in it is rated `rating`. */
  ratings: Record<string, number>
  rating: number
  vine: VineClass
  yieldIndex: Record<Water, number>
  /** [day] */
  daysToMaturity: number
  /** [share] */
  germination: number
  yearsOut: number
  /** Null where the farm has no usual window: then the date costs nothing. */
  window: PlantingWindow | null
}

/** @param season its varieties are looked up by the name in `usual/variety` */
export function usualChoiceOf(season: Season, book: Book): UsualChoice {
  const named = season.varieties.find(({ name }) => name === book.word('usual/variety'))
  const word = book.word('usual/vine')
  return {
    variety: named?.name ?? null,
    ratings: named?.ratings ?? {},
    // A named variety without a rating counts as the plan counts it.
    rating: book.number(named === undefined ? 'usual/rating' : 'rating/unrated'),
    vine: named?.vine ?? vineClasses.find((each) => each === word) ?? 'medium',
    yieldIndex: named
      ? { irrigated: yieldIndexOn(named, 'irrigated'), dryland: yieldIndexOn(named, 'dryland') }
      : { irrigated: 1, dryland: 1 },
    daysToMaturity: named?.daysToMaturity ?? book.number('date/usual days to maturity'),
    germination: book.number('usual/germination'),
    yearsOut: book.number('usual/years out'),
    window:
      season.windows.filter(({ kind }) => kind === 'usual').sort((a, b) => (a.opens < b.opens ? -1 : 1))[0] ?? null,
  }
}

/** The word of the assumptions while no variety is named. */
const notNamed = 'not named'

/** A usual variety that is not in the list, as after it was renamed: goals then refer to a variety of index 1. */
export function usualNotices({ book, usual }: Pick<Context, 'book' | 'usual'>): Problem[] {
  const name = book.word('usual/variety')
  if (usual.variety !== null || name === notNamed) return []
  return [
    {
      code: 'unknown-name',
      what: `Your usual variety “${name}” is not in your list, so yield goals refer to a variety of yield index 1.`,
      where: { table: 'assumption', path: 'usual/variety' },
      remedy: 'Type the name as it stands under Varieties.',
    },
  ]
}
