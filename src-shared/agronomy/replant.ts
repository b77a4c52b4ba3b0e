/**
 * What to do about a thin stand: keep it, add seed in the stand, or start over. Each is the same crop function at its own
 * stand and date, set against a full stand planted on the first day. Source: T10, T20 and the rows `replant/…`.
 */
import type { Measure } from '../threat.ts'
import { leftBy } from './block-money.ts'
import { silent } from './calculation.ts'
import type { Context } from './context.ts'
import { cropOf, groundFor, type Growing } from './crop.ts'
import { addDays, daysBetween } from './harvest.ts'
import { dollarsPerPound } from './price.ts'
import { poundsPerAcre, standOf } from './seed.ts'
import { through } from './formula.ts'

export interface ReplantCase {
  growing: Omit<Growing, 'stand' | 'isCounted'>
  practices: readonly Measure[]
  /** ISO date of the count. */
  countedOn: string
  /** [seeds/ft] of the first planting, used again where it is started over. */
  seedsPerFoot: number
  /** [share] of the seed at hand. */
  germination: number
  /** [inch] */
  rowSpacingIn: number
  /** [seeds/lb] */
  seedsPerPound: number
  /** [cent/lb] */
  seedCentsPerPound: number
}

/** [cent/acre] against a full stand on the first day; each choice with all that it costs. */
export interface ReplantChoice {
  /** [share] of yield that keeping forgoes. */
  keepShare: number
  keepCents: number
  addCents: number
  addSeedsPerFoot: number
  addSeedCents: number
  addWorkCents: number
  addLostCents: number
  replantCents: number
  seedCents: number
  workCents: number
  laterCents: number
}

/** @param stand [plants/ft] counted */
export function replantChoices(context: Context, stand: number, of: ReplantCase): ReplantChoice {
  const { book } = context
  const { field, variety, planted } = of.growing
  const ground = groundFor(context, field)
  const left = leftBy(context, of.practices)
  const perPound = dollarsPerPound(book, context.price, variety, silent) * 100
  const worth = (plants: number, on: string) =>
    cropOf(context, ground, { ...of.growing, planted: on, stand: plants, isCounted: true }, left).lb * perPound
  const emergence = context.emergence[field.rowPattern]
  const newStand = standOf(of.seedsPerFoot, of.germination, emergence)
  const wanted = Math.max(newStand, book.number('stand/reference'))
  const full = worth(wanted, planted)
  const seedCents = (seedsPerFoot: number) =>
    Math.round(poundsPerAcre(seedsPerFoot, of.rowSpacingIn, of.seedsPerPound) * of.seedCentsPerPound)
  const lost = (value: number) => Math.max(0, Math.round(full - value))

  const keepCents = lost(worth(stand, planted))
  const added = through(
    stand,
    [1, 2, 3].flatMap((plants) => [plants, book.number(`replant/added seeds/${plants}`)]),
  )
  const again = addDays(of.countedOn, Math.round(book.number('replant/days until planted')))
  // Plants that come later ripen later: the stand counts as planted between the two days, by its plants.
  const addedPlants = standOf(added, of.germination, emergence)
  const mixed = addDays(
    planted,
    Math.round((daysBetween(planted, again) * addedPlants) / Math.max(stand + addedPlants, 1e-9)),
  )
  const addLostCents = lost(worth(stand + addedPlants, mixed))
  const laterCents = lost(worth(newStand, again))
  const add = { seed: seedCents(added), work: Math.round(book.number('replant/adding seed') * 100) }
  const anew = { seed: seedCents(of.seedsPerFoot), work: Math.round(book.number('replant/work') * 100) }
  return {
    keepShare: full > 0 ? Math.min(1, keepCents / full) : 0,
    keepCents,
    addCents: add.seed + add.work + addLostCents,
    addSeedsPerFoot: added,
    addSeedCents: add.seed,
    addWorkCents: add.work,
    addLostCents,
    replantCents: anew.seed + anew.work + laterCents,
    seedCents: anew.seed,
    workCents: anew.work,
    laterCents,
  }
}
