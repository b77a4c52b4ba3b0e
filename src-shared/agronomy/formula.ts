/**
 * The formulas of the crop, each once: how its terms make a value, and the same with the figures in. The options that
 * the plan chooses from and the working that a person reads both come from here, so they cannot disagree.
 */

import { seedsPerFootForStand } from './seed.ts'

/** n terms in their order. */
export interface Formula {
  of: (terms: readonly number[]) => number
  /** @param figures the terms as text, in parentheses where negative */
  says: (figures: readonly string[], terms: readonly number[]) => string
  /** One sentence for the page on methods. */
  means: string
}

const product = (terms: readonly number[]) => terms.reduce((all, each) => all * each, 1)
const hold = (low: number, high: number, value: number) => Math.min(high, Math.max(low, value))

/** [share] Nearly every leaf: of none at all there is no logarithm. */
const nearlyAll = 1 - 1e-12

/** [share] The most that a share counts as before it becomes odds: the odds of a whole are endless. */
export const mostShare = 0.98

/**
 * A share whose odds are multiplied. Unlike a multiplied share it never passes 1, and a factor above 1 never lowers it.
 * @param share [share of yield or canopy] 0–1, held to `mostShare`
 * @param factor ≥ 0 @returns [share] 0–1; 0.2 × odds 3 → 0.43
 */
export function timesOdds(share: number, factor: number): number {
  const held = hold(0, mostShare, share)
  const odds = (held / (1 - held)) * factor
  return odds / (1 + odds)
}

/**
 * Piecewise linear through points, flat beyond the ends.
 * @param points x₁, y₁, x₂, y₂ … with x rising
 */
export function through(x: number, points: readonly number[]): number {
  const [firstX = 0, firstY = 0] = points
  if (x <= firstX) return firstY
  for (let at = 2; at < points.length; at += 2) {
    const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = points.slice(at - 2, at + 2)
    if (x <= x1) return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0)
  }
  return points.at(-1) ?? 0
}

/**
 * Yield lost to missing leaves: none up to a threshold, then a curve that rises ever faster to its most.
 * Source of the shape: little loss below 25–30 % defoliation, 37–50 % of yield unsprayed (T12, T26).
 * @param defoliation [share of canopy] 0–1
 * @param from [share of canopy] 0–1 where loss begins
 * @param most [share of yield] lost with no leaf left
 * @param bend ≥ 1; 1 is a straight line
 * @returns [share of yield] 0–1
 */
export function canopyLoss(defoliation: number, from: number, most: number, bend: number): number {
  const beyond = hold(0, 1, (defoliation - from) / Math.max(1e-9, 1 - from))
  return hold(0, 1, most * beyond ** bend)
}

const all = {
  product: {
    of: product,
    says: (figures) => figures.join(' × '),
    means: 'The terms are multiplied.',
  },
  sum: {
    of: (terms) => terms.reduce((all, each) => all + each, 0),
    says: (figures) => figures.join(' + '),
    means: 'The terms are added.',
  },
  'over the last': {
    of: (terms) => product(terms.slice(0, -1)) / (terms.at(-1) ?? Number.NaN),
    says: (figures) => `${figures.slice(0, -1).join(' × ')} / ${figures.at(-1) ?? '0'}`,
    means: 'All terms but the last are multiplied, then divided by the last.',
  },
  together: {
    of: (terms) => 1 - product(terms.map((each) => 1 - each)),
    says: (figures) => `1 − ${figures.map((figure) => `(1 − ${figure})`).join(' × ')}`,
    means: 'Each takes its share of what the others leave.',
  },
  odds: {
    of: ([share = 0, ...factors]) => timesOdds(share, product(factors)),
    says: ([share, ...factors]) => `odds of ${share ?? '0'} × ${factors.join(' × ')}`,
    means: 'The share becomes odds, share / (1 − share), the odds are multiplied, and become a share again.',
  },
  'through points': {
    of: ([x = 0, ...points]) => through(x, points),
    says: ([x, ...points]) =>
      `at ${x ?? '0'} on the line through ${Array.from({ length: points.length / 2 }, (_, n) => `${points[2 * n] ?? ''} → ${points[2 * n + 1] ?? ''}`).join(', ')}`,
    means: 'The value lies on straight lines between the points.',
  },
  'three years': {
    of: ([low = 0, usual = 0, high = 0]) => low / 6 + (2 * usual) / 3 + high / 6,
    says: ([low, usual, high]) => `${low ?? ''} / 6 + ${usual ?? ''} × 2/3 + ${high ?? ''} / 6`,
    means: 'A poor, a usual and a good year, weighed 1 : 4 : 1.',
  },
  'canopy loss': {
    of: ([defoliation = 0, from = 0, most = 0, bend = 1]) => canopyLoss(defoliation, from, most, bend),
    says: ([defoliation, from, most, bend]) =>
      `${most ?? ''} × ((${defoliation ?? ''} − ${from ?? ''}, not below 0) / (1 − ${from ?? ''}))^${bend ?? ''}`,
    means: 'No loss up to the threshold, then ever more for each further leaf.',
  },
  'by leaves taken': {
    of: ([loss = 0, own = 0, all = 0]) =>
      own === 0 || all === 0
        ? 0
        : 1 - (1 - loss) ** (Math.log(1 - Math.min(own, nearlyAll)) / Math.log(1 - Math.min(all, nearlyAll))),
    says: ([loss, own, all]) => `1 − (1 − ${loss ?? ''})^(ln(1 − ${own ?? ''}) / ln(1 − ${all ?? ''}))`,
    means: 'Each bears its part of the loss by the leaves it took; together they make the whole again.',
  },
  'days past': {
    of: ([day = 0, until = 0, shift = 0]) => Math.max(0, day - until + shift),
    says: ([day, until, shift]) => `${day ?? ''} − (${until ?? ''} − ${shift ?? ''}), not below 0`,
    means: 'Days after the last of the best days.',
  },
  'days to ripen': {
    of: ([days = 0, later = 0, fewer = 0]) => days - later * fewer,
    says: ([days, later, fewer]) => `${days ?? ''} − ${later ?? ''} × ${fewer ?? ''}`,
    means: 'Days to maturity, fewer for each day planted after the usual day and more for each day before it.',
  },
  'cool days': {
    of: ([days = 0, warm = 0, counts = 1]) => (days <= warm ? days : warm + (days - warm) / Math.max(0.05, counts)),
    says: ([days, warm, counts], [all = 0, until = 0]) =>
      all <= until ? (days ?? '') : `${warm ?? ''} + (${days ?? ''} − ${warm ?? ''}) / ${counts ?? ''}`,
    means: 'Days after the cool day count less, so more of them are needed.',
  },
  'off the best day': {
    of: ([off = 0, before = 0, after = 0]) => hold(0, 1, 1 - (off < 0 ? before : after) * off ** 2),
    says: ([off, before, after], [days = 0]) => `1 − ${(days < 0 ? before : after) ?? ''} × ${off ?? ''}²`,
    means: 'Flat about the best day of digging, then ever less for each further day off it.',
  },
  'days off': {
    of: ([late = 0, after = 0, early = 0, before = 0]) =>
      Math.max(0, 1 - late * after) * Math.max(0, 1 - early * before),
    says: ([late, after, early, before]) =>
      `(1 − ${late ?? ''} × ${after ?? ''}) × (1 − ${early ?? ''} × ${before ?? ''})`,
    means: 'Each day off the best days costs the same share.',
  },
  'shortfall over': {
    of: ([a = 0, b = 0, by = 1]) => Math.max(0, a - b) / by,
    says: ([a, b, by]) => `(${a ?? ''} − ${b ?? ''}, not below 0) / ${by ?? ''}`,
    means: 'The second is taken from the first, then divided by the third.',
  },
  over: {
    of: ([first = 0, ...rest]) => first / product(rest),
    says: ([first, ...rest]) =>
      rest.length === 1 ? `${first ?? ''} / ${rest[0] ?? ''}` : `${first ?? ''} / (${rest.join(' × ')})`,
    means: 'The first term is divided by all the others.',
  },
  left: {
    of: (terms) => product(terms.map((each) => 1 - each)),
    says: (figures) => figures.map((figure) => `(1 − ${figure})`).join(' × '),
    means: 'What is left after each takes its share.',
  },
  'signal share': {
    of: ([spread = 0, places = 0, error = 0, count = 1]) => {
      const noise = (places ** 2 + error ** 2) / Math.max(1, count)
      return spread === 0 ? 0 : spread ** 2 / (spread ** 2 + noise)
    },
    says: ([spread, places, error, count]) =>
      `${spread ?? ''}² / (${spread ?? ''}² + (${places ?? ''}² + ${error ?? ''}²) / ${count ?? ''})`,
    means: 'What varieties really differ by, of all that trials show.',
  },
  'drawn to 1': {
    of: ([ratio = 1, weight = 0]) => 1 + weight * (ratio - 1),
    says: ([ratio, weight]) => `1 + ${weight ?? ''} × (${ratio ?? ''} − 1)`,
    means: 'Part of the way from 1 to the ratio seen.',
  },
  'kept in proportion': {
    of: ([published = 0, usual = 0, here = 0]) => (published * (1 - usual)) / (1 - here),
    says: ([published, usual, here]) => `${published ?? ''} × (1 − ${usual ?? ''}) / (1 − ${here ?? ''})`,
    means: 'The published share, less what the counted diseases already explain.',
  },
  'mean by weight': {
    of: (terms) => {
      const each = Array.from(
        { length: terms.length / 2 },
        (_, n) => [terms[2 * n] ?? 0, terms[2 * n + 1] ?? 0] as const,
      )
      return each.reduce((sum, [value, weight]) => sum + value * weight, 0) / each.reduce((sum, [, by]) => sum + by, 0)
    },
    says: (figures) => {
      const each = Array.from({ length: figures.length / 2 }, (_, n) => [
        figures[2 * n] ?? '',
        figures[2 * n + 1] ?? '',
      ])
      return `(${each.map((pair) => pair.join(' × ')).join(' + ')}) / (${each.map(([, by]) => by).join(' + ')})`
    },
    means: 'Each value counts by its weight.',
  },
  'extra hours': {
    of: ([a = 0, b = 0, each = 0]) => (a - b) * each,
    says: ([a, b, each]) => `(${a ?? '0'} − ${b ?? '0'}) × ${each ?? '0'}`,
    means: 'The second is taken from the first, times the third.',
  },
  shortfall: {
    of: ([a = 0, b = 0, each = 0]) => Math.max(0, a - b) * each,
    says: ([a, b, each]) => `(${a ?? '0'} − ${b ?? '0'}, not below 0) × ${each ?? '0'}`,
    means: 'What the second lacks of the first, times the third.',
  },
  emergence: {
    of: ([germination = 0, field = 0, falls = 0, rate = 0, usual = 0]) =>
      hold(0.05, 1, germination * (field - falls * (rate - usual))),
    says: (at) => `${at[0] ?? ''} × (${at[1] ?? ''} − ${at[2] ?? ''} × (${at[3] ?? ''} − ${at[4] ?? ''}))`,
    means: 'Germination times field emergence, which may fall with the rate.',
  },
  'drop for a stand': {
    of: ([stand = 0, germination = 0, field = 0, fallsPerSeed = 0, referenceSeedsPerFoot = 0]) =>
      seedsPerFootForStand(stand, germination, { field, fallsPerSeed, referenceSeedsPerFoot }),
    says: (at) =>
      `the rate that leaves ${at[0] ?? ''} plants a foot at ${at[1] ?? ''} × (${at[2] ?? ''} − ${at[3] ?? ''} × (rate − ${at[4] ?? ''}))`,
    means: 'The least rate that leaves the stand.',
  },
  'stand factor': {
    of: ([perPlant = 0, reference = 0, stand = 0, from = 0, to = 0]) =>
      Math.max(0, 1 + perPlant * (reference - hold(from, to, stand))),
    says: (at) => `1 + ${at[0] ?? ''} × (${at[1] ?? ''} − ${at[2] ?? ''} held to ${at[3] ?? ''}–${at[4] ?? ''})`,
    means: 'Each missing plant a foot counts the same, within the stands that were studied.',
  },
} satisfies Record<string, Formula>

export type FormulaName = keyof typeof all

export const formulas: Readonly<Record<FormulaName, Formula>> = all
