/** Which block the arrow keys go to. Pure. */
import type { Plot } from './ground.ts'

const directions: Record<string, [x: number, y: number]> = {
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
}

/** The nearest block that lies more that way than aside, else the nearest that lies that way at all; or null. */
export function nearest(plots: readonly Plot[], fromId: number, key: string): number | null {
  const direction = directions[key]
  const from = plots.find((plot) => plot.id === fromId)
  if (!direction || !from) return null
  const [dx, dy] = direction
  const ahead = plots.flatMap((plot) => {
    const [x, y] = [plot.middle.x - from.middle.x, plot.middle.y - from.middle.y]
    const along = x * dx + y * dy
    const aside = Math.abs(x * dy) + Math.abs(y * dx)
    return plot.id === fromId || along <= 1 ? [] : [{ id: plot.id, cost: along + aside * (aside > along ? 4 : 1) }]
  })
  return ahead.sort((one, other) => one.cost - other.cost)[0]?.id ?? null
}
