/**
 * The tolerance tables of the Federal Seed Act regulations, as they are printed: a retest against its label (7 CFR
 * 201.63), replicates of one test (201.55), noxious seeds found against those labelled (201.65). Tables, not formulas:
 * the formula printed beside 201.65 does not give all of its own cells. Pure.
 */

/** 7 CFR 201.63: mean of label and test [%] from which the row holds; points of tolerance for 400 seeds or more. */
const retestRows = [
  { from: 96, points: 5 },
  { from: 90, points: 6 },
  { from: 80, points: 7 },
  { from: 70, points: 8 },
  { from: 60, points: 9 },
] as const

/** [point] below the last row. */
const leastMeanPoints = 10

/**
 * Points by which a test may fall below its label.
 * @param mean [%] 0–100 of label and test; 96, 90, 80, 70 and 60 belong to the higher band
 * @param seeds 400 or more, or 200 of a component of a mixture, which is given 2 points more
 * @returns [point]
 */
export function retestTolerance(mean: number, seeds: 400 | 200 = 400): number {
  const points = retestRows.find(({ from }) => mean >= from)?.points ?? leastMeanPoints
  return points + (seeds === 200 ? 2 : 0)
}

export interface Retest {
  /** [%] of label and test */
  mean: number
  /** [point] */
  tolerance: number
  /** [point] label less test; below 0 where the test is the better. */
  below: number
  isWithin: boolean
}

/**
 * A test held against its label.
 * @param label [share] 0–1
 * @param test [share] 0–1
 * @returns label 85 %, test 77 % → mean 81, tolerance 7, 8 below: outside
 */
export function retestAgainst(label: number, test: number, seeds: 400 | 200 = 400): Retest {
  const mean = percent((label + test) / 2)
  const tolerance = retestTolerance(mean, seeds)
  const below = percent(label - test)
  return { mean, tolerance, below, isWithin: below <= tolerance }
}

/** Shares of binary fractions as the per cent that was meant. */
function percent(share: number): number {
  return Math.round(share * 1e10) / 1e8
}

/**
 * 7 CFR 201.55, average germination 99 down to 71 %: the widest range of four replicates of 100 seeds. What was read
 * of the table ends at 71; the rows below were not and are not made up.
 */
const fourReplicates: readonly number[] = [
  5, 6, 7, 8, 9, 10, 10, 11, 11, 12, 12, 13, 13, 14, 14, 14, 15, 15, 15, 16, 16, 16, 17, 17, 17, 17, 17, 18, 18,
]
/** The same of two replicates, from 97 % down; for 99 and 98 the table has none. */
const twoReplicates: readonly number[] = [
  6, 6, 7, 8, 8, 9, 9, 9, 10, 10, 11, 11, 11, 11, 12, 12, 12, 13, 13, 13, 13, 13, 14, 14, 14, 14, 14,
]

/**
 * The widest range that replicates of 100 seeds may have before the test is done again.
 * @param average [%] 0–100, taken to the nearest whole one; the table is printed for 2–30 beside 99–71
 * @returns [point]; null where the table read has no row
 */
export function replicateRange(average: number, replicates: 4 | 2): number | null {
  const whole = Math.round(average)
  const high = whole >= 71 && whole <= 99 ? whole : whole >= 2 && whole <= 30 ? 101 - whole : null
  if (high === null) return null
  return (replicates === 4 ? fourReplicates[99 - high] : twoReplicates[97 - high]) ?? null
}

/** 7 CFR 201.65, seeds labelled 0 to 30: most that may be found. */
const noxious: readonly number[] = [
  2, 4, 6, 8, 9, 11, 12, 13, 14, 16, 17, 18, 20, 21, 22, 23, 24, 25, 27, 28, 29, 30, 32, 33, 34, 35, 37, 38, 39, 41, 42,
]

/**
 * Noxious weed seeds that may be found where so many are labelled, both in the weight examined.
 * @param labelled whole number of seeds
 * @returns null past 30, where what was read of the table ends
 */
export function noxiousMost(labelled: number): number | null {
  return noxious[labelled] ?? null
}
