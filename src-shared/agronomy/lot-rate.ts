/**
 * What a real lot changes: the drop that keeps the stand that was planned, and what a pound of it plants. The planned
 * drop and the stand come from `dropFor`; the arithmetic of seed from `seed.ts`. Pure.
 */
import type { Book } from '../assumption.ts'
import { poundsPerAcre, seedsPerFootForStand, standOf, type Emergence } from './seed.ts'

export interface LotSeed {
  /** [share] 0–1 of the newest test, else of the tag, else the variety's expectation. */
  germination: number
  /** [seeds/lb] of the tag or the lot's own count, else the variety's. */
  seedsPerPound: number
}

export interface LotRate {
  /** [seeds/ft of row position]; both drills of a twin row together. */
  seedsPerFoot: number
  /** [lb/acre] */
  poundsPerAcre: number
  /** [plants/ft] that this drop is expected to leave; below the wanted one where that cannot be reached. */
  stand: number
}

/**
 * The drop and the rate of a lot for a stand.
 * @param stand [plants/ft of row position] > 0
 * @param spacingIn [inch] > 0
 * @returns 4 plants at 85 %, 86 % emergence, 36 in, 650 seeds/lb → 5.47 seeds/ft, 122.2 lb/acre
 */
export function lotRate(stand: number, seed: LotSeed, emergence: Emergence, spacingIn: number): LotRate {
  const seedsPerFoot = seedsPerFootForStand(stand, seed.germination, emergence)
  return {
    seedsPerFoot,
    poundsPerAcre: poundsPerAcre(seedsPerFoot, spacingIn, seed.seedsPerPound),
    stand: standOf(seedsPerFoot, seed.germination, emergence),
  }
}

/**
 * Packs to load for so many pounds: whole ones, the last of them opened.
 * @param packPounds [lb] > 0
 */
export function packsToLoad(pounds: number, packPounds: number): number {
  return Math.max(0, Math.ceil(pounds / packPounds - 1e-6))
}

/**
 * The thinnest stand for which a lower drop is offered where seed is short.
 * @param early [plants/ft] that the house asks for in an early window; 0 where it asks for none
 */
export function leastStand(book: Book, early: number): number {
  return Math.max(book.number('rate/least stand'), early)
}
