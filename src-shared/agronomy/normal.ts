/**
 * The normal distribution, to double precision: what the reserve and the intervals need, nothing more.
 * Checked against an independent statistics library in the tests.
 */

/** Density of the standard normal. */
export function normalPdf(z: number): number {
  return Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)
}

/**
 * Φ(z). Series for small |z|, continued fraction (Lentz) for the tail: Abramowitz & Stegun 26.2.11 and 26.2.14.
 * Absolute error below 1e-14.
 */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) return Number.NaN
  const x = Math.abs(z)
  if (x > 38) return z > 0 ? 1 : 0
  if (x < 2.5) {
    let term = x
    let sum = x
    for (let n = 1; Math.abs(term) > 1e-18 * sum && n < 200; n++) {
      term *= (x * x) / (2 * n + 1)
      sum += term
    }
    const half = normalPdf(x) * sum
    return z >= 0 ? 0.5 + half : 0.5 - half
  }
  let fraction = 0
  for (let n = 120; n >= 1; n--) fraction = n / (x + fraction)
  const tail = normalPdf(x) / (x + fraction)
  return z > 0 ? 1 - tail : tail
}

/**
 * Inverse of Φ, by bisection to a start and Newton on the log-tail side that keeps precision.
 * @param p 0 < p < 1; 0 and 1 give ∓∞, anything else NaN
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN
  if (p === 0) return Number.NEGATIVE_INFINITY
  if (p === 1) return Number.POSITIVE_INFINITY
  if (p > 0.5) return -normalQuantile(1 - p)
  let low = -38
  let high = 0
  for (let n = 0; n < 60; n++) {
    const middle = (low + high) / 2
    if (normalCdf(middle) < p) low = middle
    else high = middle
  }
  let z = (low + high) / 2
  for (let n = 0; n < 3; n++) {
    // Above −38 the density is never 0 in double precision.
    z -= (normalCdf(z) - p) / normalPdf(z)
  }
  return z
}
