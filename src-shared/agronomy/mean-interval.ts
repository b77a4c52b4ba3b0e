/**
 * How sure a mean is: its 95 % interval from the spread of what it is the mean of, and whether two means can be told
 * apart (Welch 1947: unequal spreads, Satterthwaite's degrees of freedom). Held against a statistics library in the tests.
 */
import { tQuantile } from './student-t.ts'

export interface Spread {
  count: number
  mean: number
  /** Of one value about the mean; null with fewer than two. */
  deviation: number | null
  /** Ends of the 95 % interval of the mean; null with fewer than two. */
  low: number | null
  high: number | null
}

/** @param values at least one, each weighing the same */
export function spreadOf(values: readonly number[]): Spread {
  const count = values.length
  const mean = values.reduce((sum, each) => sum + each, 0) / count
  if (count < 2) return { count, mean, deviation: null, low: null, high: null }
  const variance = values.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (count - 1)
  const half = tQuantile(0.95, count - 1) * Math.sqrt(variance / count)
  return { count, mean, deviation: Math.sqrt(variance), low: mean - half, high: mean + half }
}

export interface Difference {
  /** Mean of the first less mean of the second. */
  difference: number
  /** Ends of its 95 % interval. */
  low: number
  high: number
  degrees: number
  /** The interval leaves out 0. */
  isToldApart: boolean
}

/** Null where one of the two has fewer than two values: then nothing can be said of its spread. */
export function differenceOf(a: Spread, b: Spread): Difference | null {
  if (a.deviation === null || b.deviation === null) return null
  const difference = a.mean - b.mean
  const [one, other] = [a.deviation ** 2 / a.count, b.deviation ** 2 / b.count]
  if (one + other === 0) {
    return {
      difference,
      low: difference,
      high: difference,
      degrees: a.count + b.count - 2,
      isToldApart: difference !== 0,
    }
  }
  const degrees = (one + other) ** 2 / (one ** 2 / (a.count - 1) + other ** 2 / (b.count - 1))
  const half = tQuantile(0.95, degrees) * Math.sqrt(one + other)
  return {
    difference,
    low: difference - half,
    high: difference + half,
    degrees,
    isToldApart: Math.abs(difference) > half,
  }
}
