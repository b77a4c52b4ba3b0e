/** What a run takes of an exhaustive set hangs on the commit and on nothing else. */
import { afterEach, expect, test, vi } from 'vitest'
import { sampleSeed } from '../tools/sample-seed.mjs'

afterEach(() => {
  vi.unstubAllEnvs()
  vi.resetModules()
})

async function drawn(seed: string, sample = '') {
  vi.resetModules()
  vi.stubEnv('STANDWELL_SEED', seed)
  vi.stubEnv('STANDWELL_SAMPLE', sample)
  const { sampled, upTo } = await import('./sampled.ts')
  return (name: string, always: number[] = []) => sampled(name, upTo(300), 40, always)
}

test('the same seed draws the same part, another seed another', async () => {
  const first = (await drawn('a1'))('farms')
  expect(first).toHaveLength(40)
  expect(new Set(first).size).toBe(40)
  expect(first).toEqual(first.toSorted((a, b) => a - b))
  expect((await drawn('a1'))('farms')).toEqual(first)
  expect((await drawn('a1'))('curves')).not.toEqual(first)
  expect((await drawn('b2'))('farms')).not.toEqual(first)
})

test('what once failed is always in it', async () => {
  for (const seed of ['a', 'b', 'c'])
    expect((await drawn(seed))('farms', [17, 250])).toEqual(expect.arrayContaining([17, 250]))
})

test('every one of the set comes up in some commit', async () => {
  const seen = new Set<number>()
  for (let seed = 0; seed < 60; seed += 1) for (const each of (await drawn(String(seed)))('farms')) seen.add(each)
  expect(seen.size).toBe(300)
})

test('all of it where all is asked for', async () => expect((await drawn('a', 'all'))('farms')).toHaveLength(300))

test('the seed is the commit, and a printed one repeats it', () => {
  expect(sampleSeed({ STANDWELL_SEED: 'c0ffee' })).toBe('c0ffee')
  expect(sampleSeed({})).toMatch(/^([0-9a-f]{7,}|standwell)$/)
})
