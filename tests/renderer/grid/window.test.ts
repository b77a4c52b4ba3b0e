/** Which lines of a long table are drawn: all that are in sight, always the one that has the focus, and few more. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { drawnLines, fewLines } from '../../../src-renderer/grid/window.ts'

test('whatever is scrolled to, drawn and skipped lines add up, and what is in sight is drawn', () => {
  const numbers = fc.tuple(
    fc.nat(5000),
    fc.nat(6000),
    fc.integer({ min: 1, max: 80 }),
    fc.integer({ min: -1, max: 5000 }),
  )
  fc.assert(
    fc.property(numbers, ([all, from, count, stand]) => {
      const { lines, after } = drawnLines(all, from, count, stand)
      const sum = lines.reduce((total, { skipped }) => total + skipped + 1, 0)
      expect(sum + after).toBe(all)
      const drawn = new Set(lines.map(({ index }) => index))
      for (let line = from; line < Math.min(all, from + count); line += 1) expect(drawn.has(line)).toBe(true)
      if (stand >= 0 && stand < all) expect(drawn.has(stand)).toBe(true)
      expect(new Set(lines.map(({ slot }) => slot)).size).toBe(lines.length)
      expect(lines.length).toBeLessThanOrEqual(Math.max(fewLines, count + 17))
    }),
  )
})
