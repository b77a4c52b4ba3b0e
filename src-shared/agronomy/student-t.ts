/**
 * The t distribution as far as a stand count needs it: the quantile for a confidence interval. By the incomplete beta
 * function (Abramowitz & Stegun 26.5.8 and 26.7.1); checked against an independent statistics library in the tests.
 */

/**
 * Value that |t| does not pass with this confidence.
 * @param confidence [share] 0 < c < 1; 0.95 for a 95 % interval
 * @param degrees ≥ 1; a fraction where two unequal spreads are set against each other
 * @returns 0.95 and 4 degrees → 2.7764
 */
export function tQuantile(confidence: number, degrees: number): number {
  let low = 0
  let high = 1
  while (withinT(high, degrees) < confidence) high *= 2
  for (let n = 0; n < 200 && high - low > 1e-14 * high; n++) {
    const middle = (low + high) / 2
    if (withinT(middle, degrees) < confidence) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** Chance that |t| stays below: 1 − I(degrees/2, 1/2) at degrees / (degrees + t²). */
function withinT(t: number, degrees: number): number {
  return 1 - incompleteBeta(degrees / (degrees + t * t), degrees / 2, 0.5)
}

function incompleteBeta(x: number, a: number, b: number): number {
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log(1 - x))
  // The fraction converges quickly only on its own side; the other side is what is left of 1.
  return x < (a + 1) / (a + b + 2) ? (front * fraction(x, a, b)) / a : 1 - (front * fraction(1 - x, b, a)) / b
}

/** Continued fraction of the incomplete beta function, by Lentz. */
function fraction(x: number, a: number, b: number): number {
  const tiny = 1e-300
  const safe = (value: number) => (Math.abs(value) < tiny ? tiny : value)
  let c = 1
  let d = 1 / safe(1 - ((a + b) * x) / (a + 1))
  let value = d
  for (let m = 1; m < 500; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / safe(1 + even * d)
    c = safe(1 + even / c)
    value *= d * c
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / safe(1 + odd * d)
    c = safe(1 + odd / c)
    const step = d * c
    value *= step
    if (Math.abs(step - 1) < 1e-16) break
  }
  return value
}

/** ln Γ for x > 0 by Stirling's series, after stepping x up to where it holds to double precision. */
function logGamma(x: number): number {
  let shift = 0
  let at = x
  while (at < 15) {
    shift += Math.log(at)
    at += 1
  }
  const square = at * at
  const series = 1 / (12 * at) - 1 / (360 * at * square) + 1 / (1260 * at * square * square)
  return (at - 0.5) * Math.log(at) - at + 0.5 * Math.log(2 * Math.PI) + series - shift
}
