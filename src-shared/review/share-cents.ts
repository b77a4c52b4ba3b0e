/** One sum shared out in whole cents: what rounding leaves over goes to the largest remainders, so that the shares add up. */

/**
 * @param cents whole, may be less than nothing
 * @param weights ≥ 0; where all are 0 the shares are as even as they can be
 * @returns whole cents in the order of the weights, adding up to `cents`; none for no weights
 */
export function shareCents(cents: number, weights: readonly number[]): number[] {
  const all = weights.reduce((sum, weight) => sum + weight, 0)
  const parts = weights.map((weight) => (all > 0 ? (cents * weight) / all : cents / weights.length))
  const shares = parts.map(Math.floor)
  const order = parts
    .map((part, at) => ({ at, rest: part - Math.floor(part) }))
    .sort((a, b) => b.rest - a.rest || a.at - b.at)
  let over = cents - shares.reduce((sum, share) => sum + share, 0)
  for (const { at } of order) {
    if (over <= 0) break
    shares[at] = (shares[at] as number) + 1
    over -= 1
  }
  return shares
}
