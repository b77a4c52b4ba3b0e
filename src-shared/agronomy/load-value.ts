/**
 * What a load weighs and is worth: net weight after foreign material, loose kernels and moisture above what is free, then
 * by the loan schedule's dollars for each percent of sound kernels, or by a price a ton. Discounts are the buyer's: none is
 * assumed. What a load's own words and the house book make of it: `load-worth.ts`. Pure.
 */

export interface LoadWeight {
  /** [lb] ≥ tare */
  grossPounds: number
  /** [lb] ≥ 0 */
  tarePounds: number
  /** [share of gross less tare] 0–1 each */
  foreignMaterial: number
  looseKernels: number
  moisture: number
}

export interface Grade {
  /** [share] 0–1 of the sample: kernels sound and mature, and sound splits. */
  soundMatureKernels: number
  soundSplits: number
}

export interface NetWeight {
  /** [lb] */
  onScale: number
  foreignPounds: number
  loosePounds: number
  excessWaterPounds: number
  netPounds: number
}

export const poundsPerTon = 2000

/**
 * @param freeMoisture [share] of water that is not deducted: a rule of the buying point
 * @returns 10,000 lb with 4 % foreign material and 3 % loose kernels, dry enough → 9,300 lb
 */
export function netWeight(load: LoadWeight, freeMoisture: number): NetWeight {
  const onScale = load.grossPounds - load.tarePounds
  const foreignPounds = onScale * load.foreignMaterial
  const loosePounds = onScale * load.looseKernels
  const excessWaterPounds = onScale * Math.max(0, load.moisture - freeMoisture)
  const netPounds = Math.max(0, onScale - foreignPounds - loosePounds - excessWaterPounds)
  return { onScale, foreignPounds, loosePounds, excessWaterPounds, netPounds }
}

/**
 * [cent/ton] by the loan schedule: each percent of sound mature kernels and sound splits at its rate.
 * @param dollarsPerPercent [$/ton] of the crop year and type
 * @returns 69 % and 4 % at $4.81 → 35,113
 */
export function loanCentsPerTon({ soundMatureKernels, soundSplits }: Grade, dollarsPerPercent: number): number {
  return Math.round((soundMatureKernels + soundSplits) * 100 * dollarsPerPercent * 100)
}

/** [cent] of a net weight at a price a ton, before discounts. */
export function valueCents(netPounds: number, centsPerTon: number): number {
  return Math.round((netPounds / poundsPerTon) * centsPerTon)
}

/**
 * Between which prices a lot of this price grades nineteen times in twenty, by sampling and grading alone.
 * Source: Whitaker, Dickens & Giesbrecht 1991, Peanut Science 18(2): a coefficient of variation of 2.4 % on price.
 * @param variation [share, one deviation]
 */
export function gradingBand(centsPerTon: number, variation = 0.024): { low: number; high: number } {
  const off = 1.96 * variation * centsPerTon
  return { low: centsPerTon - off, high: centsPerTon + off }
}
