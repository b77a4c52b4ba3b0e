/** How near two names or words are, by a kept library: what is offered when a word is not one that is known. Pure. */
import { distance } from 'fastest-levenshtein'
import { plainName } from './tokens.ts'

/**
 * How much two words are alike but for blanks, punctuation and a few letters.
 * @returns [share] 1 the same, 0 nothing in common
 */
export function likeness(one: string, other: string): number {
  const [a, b] = [plainName(one), plainName(other)]
  if (a === '' || b === '') return 0
  return a === b ? 1 : 1 - distance(a, b) / Math.max(a.length, b.length)
}

const sorted = (word: string) => [...word].toSorted().join('')

/** Whether a token is the other with a slip of typing: one letter of five or more, two of eight or more, or two that changed places. */
export function isSlip(one: string, other: string): boolean {
  const least = Math.min(one.length, other.length)
  if (least < 4 || one[0] !== other[0] || Math.abs(one.length - other.length) > 2) return false
  const apart = distance(one, other)
  if (apart === 2 && one.length === other.length && sorted(one) === sorted(other)) return true
  return least >= 5 && apart <= (least >= 8 ? 2 : 1)
}

/** Whether a token is the other cut short: “spac” or “spcg” of spacing. */
export function isShort(short: string, whole: string): boolean {
  if (short.length < 3 || short.length >= whole.length || short[0] !== whole[0]) return false
  let at = 0
  for (const letter of whole) if (letter === short[at]) at += 1
  return at === short.length
}

/** Digits tell names apart: “Home 1” and “Home 2” are two fields. */
const digitsOf = (name: string) => (name.match(/\d+/g) ?? []).map(Number).join(' ')

export interface NearName {
  name: string
  likeness: number
}

/** Names by their digits: only those are compared. Made once for a list. */
const indices = new WeakMap<readonly string[], Map<string, { name: string; plain: string }[]>>()

function indexOf(names: readonly string[]) {
  let index = indices.get(names)
  if (!index) {
    index = Map.groupBy(
      names.map((name) => ({ name, plain: plainName(name) })),
      ({ name }) => digitsOf(name),
    )
    indices.set(names, index)
  }
  return index
}

/** More names than any farm has fields: looking through them for each word would take minutes. */
const mostCompared = 2000

/** The nearest of the names, or null where none is near. One that differs in its digits is not near. */
export function nearest(word: string, names: readonly string[]): NearName | null {
  const own = plainName(word)
  const alike = indexOf(names).get(digitsOf(word)) ?? []
  if (own === '' || alike.length > mostCompared) return null
  let best: NearName | null = null
  for (const { name, plain } of alike) {
    const length = Math.max(own.length, plain.length)
    // So many letters more are too many already.
    if (plain === '' || Math.abs(own.length - plain.length) > 0.3 * length) continue
    const share = own === plain ? 1 : 1 - distance(own, plain) / length
    if (share >= 0.7 && share > (best?.likeness ?? 0)) best = { name, likeness: share }
  }
  return best
}
