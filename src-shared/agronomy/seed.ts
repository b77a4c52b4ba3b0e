/**
 * Seed arithmetic: from row spacing and the drop to pounds an acre and whole packs. Pure; every number has
 * its unit in brackets. Bought by the pound, planted by the foot of row.
 */

/** [ft²/acre] */
export const SQUARE_FEET_PER_ACRE = 43_560

/** [m²/acre] the international acre. */
export const SQUARE_METERS_PER_ACRE = 4046.8564224

/**
 * Feet of row on an acre.
 * @param spacingIn [inch] > 0, centre to centre; for twin rows, of the pairs (a pair counts as one row position)
 * @returns [ft/acre]; 36 in → 14,520
 */
export function rowFeetPerAcre(spacingIn: number): number {
  return SQUARE_FEET_PER_ACRE / (spacingIn / 12)
}

/**
 * Seeds an acre.
 * @param seedsPerFoot [seeds/ft of row position]; both drills of a twin row together
 * @param spacingIn [inch] > 0
 * @returns [seeds/acre]; 6 at 36 in → 87,120
 */
export function seedsPerAcre(seedsPerFoot: number, spacingIn: number): number {
  return seedsPerFoot * rowFeetPerAcre(spacingIn)
}

/**
 * Pounds of seed an acre.
 * @param seedsPerPound [seeds/lb] > 0; the lot's own count where it is known
 * @returns [lb/acre]; 6 seeds/ft, 36 in, 650 seeds/lb → 134.03
 */
export function poundsPerAcre(seedsPerFoot: number, spacingIn: number, seedsPerPound: number): number {
  return seedsPerAcre(seedsPerFoot, spacingIn) / seedsPerPound
}

/**
 * Plants an acre from the distance between plants: the same arithmetic from the other end.
 * @param inRowIn [inch] > 0 plant to plant
 * @returns [plants/acre]; 36 × 6 in → 29,040
 */
export function plantsPerAcre(spacingIn: number, inRowIn: number): number {
  return (SQUARE_FEET_PER_ACRE * 144) / (spacingIn * inRowIn)
}

/** [share] of seeds that make a plant at the least, so that a stand stays computable even from seed that is dead. */
const leastEmergence = 0.05

/** How emergence answers to the drop; `fallsPerSeed` 0 leaves it flat. */
export interface Emergence {
  /** [share] of viable seed that makes a plant at the reference drop. */
  field: number
  /** [share per seed/ft] lost for each seed a foot above the reference. */
  fallsPerSeed: number
  /** [seeds/ft] */
  referenceSeedsPerFoot: number
}

/**
 * Share of seeds that make a plant at this drop: germination × field emergence, less the fall with rate.
 * @returns [share] 0.05–1
 */
export function emergenceAt(seedsPerFoot: number, germination: number, emergence: Emergence): number {
  const field = emergence.field - emergence.fallsPerSeed * (seedsPerFoot - emergence.referenceSeedsPerFoot)
  return Math.min(1, Math.max(leastEmergence, germination * field))
}

/**
 * Plants a foot that a drop leaves standing.
 * @returns [plants/ft]; 6 seeds/ft × 70 % → 4.2
 */
export function standOf(seedsPerFoot: number, germination: number, emergence: Emergence): number {
  return seedsPerFoot * emergenceAt(seedsPerFoot, germination, emergence)
}

/**
 * Seeds a foot for a wanted stand. With emergence that falls with rate the stand is a parabola of the drop:
 * the smaller root is taken; where the stand cannot be reached at all, the drop at the parabola's top. Seeds never
 * make more than one plant each: a stand that thin takes as many seeds as plants. And never fewer than one plant of
 * twenty seeds: without that, seed that is dead would take endlessly many.
 * @param plantsPerFoot [plants/ft] > 0 @param germination [share] 0–1
 * @returns [seeds/ft]; 4 plants at 85 % germination × 86 % field emergence, not falling → 5.47
 */
export function seedsPerFootForStand(plantsPerFoot: number, germination: number, emergence: Emergence): number {
  const { field, fallsPerSeed: k, referenceSeedsPerFoot } = emergence
  if (k === 0) return plantsPerFoot / emergenceAt(referenceSeedsPerFoot, germination, emergence)
  // stand(s) = g·(a − k·s)·s with a = field + k·reference
  const a = field + k * referenceSeedsPerFoot
  const discriminant = (germination * a) ** 2 - 4 * germination * k * plantsPerFoot
  // The root in the form that stays exact where k is next to nothing; of dead seed it is infinite.
  const drop =
    discriminant < 0
      ? a / (2 * k)
      : Math.max(plantsPerFoot, (2 * plantsPerFoot) / (germination * a + Math.sqrt(discriminant)))
  return Math.min(drop, plantsPerFoot / leastEmergence)
}

/**
 * Whole packs for the pounds of all fields of a variety together.
 * @param pounds [lb] needed, without reserve
 * @param reserve [share] ordered beyond the need
 * @param packPounds [lb] > 0
 * @returns packs, rounded up; a rounding error of a millionth of a pack buys no pack
 */
export function packsFor(pounds: number, reserve: number, packPounds: number): number {
  return Math.max(0, Math.ceil((pounds * (1 + reserve)) / packPounds - 1e-6))
}
