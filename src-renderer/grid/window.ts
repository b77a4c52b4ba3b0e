/** Which lines of a long table are drawn: those in sight, some beside, and the one that one stands in. Pure. */

export interface Drawn {
  index: number
  /** Which drawn row shows it: rows are used again while one scrolls, which is quicker than making new ones. */
  slot: number
  /** Lines left out before it. */
  skipped: number
}

export interface DrawnLines {
  lines: Drawn[]
  /** Lines left out after the last. */
  after: number
}

/** Lines drawn above and below what is in sight, so that a quick scroll shows no gap. */
const beside = 4

/** Below this many all lines are drawn. */
export const fewLines = 60

/** Lines that are drawn because they are in sight or beside it: from the first up to the end. */
export function rangeInSight(all: number, from: number, count: number): { first: number; end: number } {
  if (all <= fewLines) return { first: 0, end: all }
  return { first: Math.max(0, Math.min(from, all - count) - beside), end: Math.min(all, from + count + beside) }
}

/**
 * @param from first line in sight @param count how many are
 * @param stand the line that has the focus: it is always drawn, or the focus would be lost in scrolling
 */
export function drawnLines(all: number, from: number, count: number, stand: number): DrawnLines {
  const { first, end } = rangeInSight(all, from, count)
  const indices = Array.from({ length: Math.max(0, end - first) }, (_, at) => first + at)
  if (stand >= 0 && stand < first) indices.unshift(stand)
  else if (stand >= end && stand < all) indices.push(stand)
  const slots = count + 2 * beside + 1
  let next = 0
  const lines = indices.map((index) => {
    const skipped = index - next
    next = index + 1
    // Of a table that is drawn whole, and for the line that has the focus, a line keeps its row.
    const isOwn = all <= fewLines || index < first || index >= end
    return { index, skipped, slot: isOwn ? -1 - index : index % slots }
  })
  return { lines, after: all - next }
}
