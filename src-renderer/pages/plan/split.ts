/** Cuts a plot into strips from west to east whose areas stand in given shares. Pure. */
import { stretches, type Plot } from './ground.ts'

/** Lines at which the ground is measured: a strip is right to about a half of a hundredth of the plot. */
const lines = 200

/**
 * @param shares of the plot, in any unit
 * @returns [unit] for each share the strip's west and east edge
 */
export function strips({ rings, box }: Plot, shares: readonly number[]): { left: number; right: number }[] {
  const step = (box.right - box.left) / lines
  const heights = Array.from({ length: lines }, (_, line) =>
    stretches(rings, box.left + (line + 0.5) * step, 'x').reduce((sum, [from, to]) => sum + to - from, 0),
  )
  const area = heights.reduce((sum, height) => sum + height, 0)
  const whole = shares.reduce((sum, share) => sum + share, 0)
  let [line, done, wanted, left] = [0, 0, 0, box.left]
  return shares.map((share, index) => {
    wanted += (share / whole) * area
    while (line < lines && done + (heights[line] as number) <= wanted + 1e-9) {
      done += heights[line] as number
      line += 1
    }
    const rest = line < lines ? (wanted - done) / (heights[line] as number) : 0
    const right = index === shares.length - 1 ? box.right : box.left + (line + rest) * step
    const strip = { left, right }
    left = right
    return strip
  })
}
