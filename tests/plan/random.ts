/** A small seeded generator (mulberry32), so that a failed farm can be made again by its number. */

export interface Random {
  /** 0 ≤ x < 1 */
  next(): number
  whole(low: number, high: number): number
  pick<Thing>(things: readonly Thing[]): Thing
  chance(probability: number): boolean
}

export function randomFrom(seed: number): Random {
  let state = (seed * 2_654_435_761) >>> 0
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296
  }
  const whole = (low: number, high: number) => low + Math.floor(next() * (high - low + 1))
  return { next, whole, pick: (things) => things[whole(0, things.length - 1)] as never, chance: (p) => next() < p }
}
