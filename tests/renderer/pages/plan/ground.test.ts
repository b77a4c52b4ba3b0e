/** The farm as ground: where blocks lie, that areas are true, that splits are in proportion, where arrows lead. */
import { expect, test } from 'vitest'
import { layGround, stretches, type Plot } from '../../../../src-renderer/pages/plan/ground.ts'
import { nearest } from '../../../../src-renderer/pages/plan/nearest.ts'
import { strips } from '../../../../src-renderer/pages/plan/split.ts'

const square = (id: number, acres: number) => ({ id, acres })

/** A boundary of so many degrees with its south-west corner at 31° N, 84° W. */
function bounded(id: number, east: number, north: number, size = 0.005) {
  const [x, y] = [-84 + east, 31 + north]
  const ring = [
    [x, y],
    [x + size, y],
    [x + size, y + size],
    [x, y + size],
    [x, y],
  ]
  return { id, acres: 60, boundary: { type: 'Polygon' as const, coordinates: [ring] } }
}

function areaOf({ rings, box }: Plot): number {
  const lines = 2000
  const step = (box.bottom - box.top) / lines
  let area = 0
  for (let line = 0; line < lines; line += 1)
    for (const [from, to] of stretches(rings, box.top + (line + 0.5) * step, 'y')) area += (to - from) * step
  return area
}

test('north is up, east is right, and a degree of longitude is shorter than one of latitude', () => {
  const { plots } = layGround([bounded(1, 0, 0), bounded(2, 0.02, 0.01)])
  const [one, other] = plots as [Plot, Plot]
  expect(other.box.left).toBeGreaterThan(one.box.right)
  expect(other.box.bottom).toBeLessThan(one.box.top)
  const shape = (one.box.right - one.box.left) / (one.box.bottom - one.box.top)
  expect(shape).toBeCloseTo(Math.cos((31 * Math.PI) / 180), 2)
})

test('without boundaries every block is as large as its acres say, and none overlaps another', () => {
  const { plots } = layGround([square(1, 40), square(2, 160), square(3, 10), square(4, 90), square(5, 75)])
  const acres = new Map([
    [1, 40],
    [2, 160],
    [3, 10],
    [4, 90],
    [5, 75],
  ])
  const ratios = plots.map((plot) => areaOf(plot) / (acres.get(plot.id) as number))
  expect(Math.max(...ratios) / Math.min(...ratios)).toBeCloseTo(1, 6)
  for (const one of plots)
    for (const other of plots.filter((plot) => plot.id > one.id)) {
      const isApart =
        one.box.right <= other.box.left + 1e-6 ||
        other.box.right <= one.box.left + 1e-6 ||
        one.box.bottom <= other.box.top + 1e-6 ||
        other.box.bottom <= one.box.top + 1e-6
      expect(isApart).toBe(true)
    }
})

test('fields without a boundary lie below those with one', () => {
  const { plots } = layGround([square(1, 40), bounded(2, 0, 0)])
  const box = (id: number) => plots.find((plot) => plot.id === id)!.box
  expect(box(1).top).toBeGreaterThan(box(2).bottom)
})

test('a split cuts a crooked block by area, not by width', () => {
  // A triangle with its right angle in the south-west: half its area lies in the west 29 %.
  const ring = [
    [-84, 31],
    [-83.99, 31],
    [-84, 31.01],
    [-84, 31],
  ]
  const field = { id: 1, acres: 50, boundary: { type: 'Polygon' as const, coordinates: [ring] } }
  const [plot] = layGround([field]).plots
  const [west, east] = strips(plot!, [25, 25])
  const width = plot!.box.right - plot!.box.left
  expect((west!.right - west!.left) / width).toBeCloseTo(1 - Math.SQRT1_2, 2)
  expect(east!.left).toBe(west!.right)
  expect(east!.right).toBe(plot!.box.right)
})

test('arrows lead to the nearest block that way, and nowhere where there is none', () => {
  const { plots } = layGround([bounded(1, 0, 0), bounded(2, 0.01, 0), bounded(3, 0.02, 0.002), bounded(4, 0, 0.01)])
  expect(nearest(plots, 1, 'ArrowRight')).toBe(2)
  expect(nearest(plots, 2, 'ArrowRight')).toBe(3)
  expect(nearest(plots, 1, 'ArrowUp')).toBe(4)
  expect(nearest(plots, 4, 'ArrowDown')).toBe(1)
  expect(nearest(plots, 1, 'ArrowLeft')).toBeNull()
})

test('no fields, no ground', () => {
  expect(layGround([]).plots).toEqual([])
})
