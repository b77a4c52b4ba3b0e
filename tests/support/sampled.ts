/**
 * The part of an exhaustive set that a run takes: a few, drawn by the commit, and always those that once failed. All of it with
 * `npm run test:all`, and in the long set of faults. A failure names the seed; `STANDWELL_SEED=… npm test` draws the same part again.
 */
import { createHash } from 'node:crypto'
import { randomFrom } from '../plan/random.ts'

export const takesAll = process.env.STANDWELL_SAMPLE === 'all' || process.env.STANDWELL_SAFETY === 'long'
const seed = process.env.STANDWELL_SEED ?? 'standwell'

/** In the order given. The same set under another name gives other things. */
export function sampled<Thing>(
  name: string,
  all: readonly Thing[],
  count: number,
  always: readonly Thing[] = [],
): Thing[] {
  if (takesAll || count >= all.length) return [...all]
  const kept = new Set(always)
  const random = randomFrom(seedFor(name))
  const rest = all.filter((thing) => !kept.has(thing))
  while (kept.size < count && rest.length > 0)
    kept.add(...(rest.splice(random.whole(0, rest.length - 1), 1) as [Thing]))
  return all.filter((thing) => kept.has(thing))
}

/** A number that hangs on the commit and on what it is for, to seed a generator with. */
export function seedFor(name: string): number {
  return createHash('sha256').update(`${seed} ${name}`).digest().readUInt32LE()
}

/** True for one in so many of the things of a set whose end is not known beforehand, and for all where all is asked for. */
export const isDrawn = (name: string, number: number, oneIn: number): boolean =>
  takesAll || seedFor(`${name} ${number}`) % oneIn === 0

/** 1, 2, … count. */
export const upTo = (count: number): number[] => Array.from({ length: count }, (_, index) => index + 1)
