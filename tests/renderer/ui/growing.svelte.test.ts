/** A long table is drawn bit by bit, and whole for paper. */
import { flushSync } from 'svelte'
import { afterEach, expect, test } from 'vitest'
import { Growing } from '../../../src-renderer/ui/growing.svelte.ts'
import { printing } from '../../../src-renderer/ui/printing.svelte.ts'

const many = Array.from({ length: 300 }, (_, at) => at)
let end = () => {}
afterEach(() => {
  end()
  dispatchEvent(new Event('afterprint'))
})

function grow(all: readonly number[]): Growing<number> {
  let growing!: Growing<number>
  end = $effect.root(() => {
    growing = new Growing(() => all)
  })
  flushSync()
  return growing
}

const frame = () => new Promise((done) => requestAnimationFrame(done))

test('the first rows are there at once, all of them after some frames, in order', async () => {
  const growing = grow(many)
  const atFirst = growing.rows.length
  expect(atFirst).toBeGreaterThan(10)
  expect(atFirst).toBeLessThan(60)
  await expect.poll(() => growing.rows.length).toBe(300)
  expect(growing.rows).toEqual(many)
})

test('a short table is whole', () => {
  expect(grow(many.slice(0, 12)).rows).toHaveLength(12)
})

test('paper has all rows before it is laid out', () => {
  const growing = grow(many)
  dispatchEvent(new Event('beforeprint'))
  expect(printing.isOn).toBe(true)
  expect(growing.rows).toHaveLength(300)
})

test('a table that is gone grows no more', async () => {
  const growing = grow(many)
  const before = growing.rows.length
  end()
  await frame()
  await frame()
  expect(growing.rows).toHaveLength(before)
})
