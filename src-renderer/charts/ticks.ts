/** Round places on an axis. Pure. */

/**
 * @param count about how many are wanted
 * @returns round numbers from at or below `low` to at or above `high`, evenly apart; at least two
 */
export function ticksOf(low: number, high: number, count = 5): number[] {
  const span = high - low
  if (!(span > 0)) return [low, low + 1]
  const raw = span / count
  const power = 10 ** Math.floor(Math.log10(raw))
  const step = ([1, 2, 2.5, 5, 10].find((each) => each * power >= raw) ?? 10) * power
  const first = Math.floor(low / step + 1e-9)
  const last = Math.ceil(high / step - 1e-9)
  return Array.from({ length: last - first + 1 }, (_, at) => (first + at) * step)
}
