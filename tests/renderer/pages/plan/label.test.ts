/** Words on a block: inside it whatever its shape, and said as fully as there is room. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { stretches, type Point } from '../../../../src-renderer/pages/plan/ground.ts'
import { leading, placeLabel, widthOf } from '../../../../src-renderer/pages/plan/label.ts'

const words = { name: 'Hickory Ridge', bags: '151 bags', acres: '55 ac' }
const letter = 12

function plot(points: [number, number][]) {
  const ring = points.map(([x, y]) => ({ x, y }))
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)]
  const box = { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) }
  return { rings: [ring], box }
}
const block = (width: number, height: number) =>
  plot([
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ])

test.each([
  [200, 60, ['Hickory Ridge'], ['151 bags · 55 ac']],
  [80, 60, ['Hickory Ridge'], ['151 bags', '55 ac']],
  [55, 80, ['Hickory', 'Ridge'], ['151 bags', '55 ac']],
  [55, 45, ['Hickory', 'Ridge'], ['151 bags']],
  [55, 27, ['Hickory', 'Ridge'], []],
])('on %d by %d it says %j %j', (width, height, name, figures) => {
  expect(placeLabel(block(width, height), words, letter)).toMatchObject({ name, figures })
})

test('letters become smaller before words are lost, and a name shorter before it overhangs', () => {
  const small = placeLabel(block(72, 34), words, letter)
  expect(small?.letter).toBeLessThan(letter)
  expect(small?.name.join(' ')).toBe('Hickory Ridge')
  expect(placeLabel(block(30, 14), words, letter)?.name[0]).toMatch(/^Hic?k?o?…$/)
  expect(placeLabel(block(8, 8), words, letter)).toBeNull()
})

test('in an L the words stand in the wide part', () => {
  const bent = plot([
    [0, 0],
    [30, 0],
    [30, 60],
    [120, 60],
    [120, 110],
    [0, 110],
  ])
  const label = placeLabel(bent, words, letter)
  expect(label?.figures).not.toEqual([])
  expect(label?.y).toBeGreaterThan(60)
})

test('no line of any label runs over the edge of its block', () => {
  const shape = fc.array(fc.tuple(fc.double({ min: 20, max: 90, noNaN: true }), fc.constant(0)), {
    minLength: 3,
    maxLength: 9,
  })
  // Seed 1015438806 has a corner that reaches in between two of the heights that were looked at once.
  const inside = fc.property(shape, (radii) => {
    // A star-shaped block around its middle: bent, but in one piece.
    const points = radii.map(([radius], at): [number, number] => {
      const angle = (at / radii.length) * 2 * Math.PI
      return [100 + radius * Math.cos(angle), 100 + radius * Math.sin(angle)]
    })
    const label = placeLabel(plot(points), words, letter)
    if (!label) return
    const ring: Point[] = points.map(([x, y]) => ({ x, y }))
    for (const [at, line] of [...label.name, ...label.figures].entries()) {
      const y = label.y + at * label.letter * leading
      const half = widthOf(line, label.letter) / 2
      const ground = stretches([ring], y, 'y')
      expect(ground.some(([left, right]) => left <= label.x - half && label.x + half <= right)).toBe(true)
    }
  })
  for (const seed of [1015438806, Date.now()]) fc.assert(inside, { seed, numRuns: 500 })
})
