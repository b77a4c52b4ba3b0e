/** A word of a cell → one of a few values: known, likely and so to be asked about, or none. Pure. */
import { choiceWords, noWords, yesWords } from './choices.ts'
import { isSlip, likeness } from './near.ts'
import { plainWord } from './question.ts'

export interface WordSense {
  value: string | null
  /** A word that means one thing; else the value is only likely. */
  isSure: boolean
}

interface Lookup {
  sure: Map<string, string>
  likely: Map<string, string>
}

const lookups = new Map<string, Lookup>()

function lookupOf(kind: string): Lookup {
  let known = lookups.get(kind)
  if (!known) {
    known = { sure: new Map(), likely: new Map() }
    for (const { value, sure, likely = '' } of choiceWords[kind] ?? []) {
      for (const word of [value, ...sure.split('|')]) known.sure.set(plainWord(word) || word, value)
      for (const word of likely.split('|').filter((each) => each !== ''))
        known.likely.set(plainWord(word) || word, value)
    }
    lookups.set(kind, known)
  }
  return known
}

export const valuesOf = (kind: string): string[] => (choiceWords[kind] ?? []).map(({ value }) => value)

/** @param kind of `choiceWords`, as water or level */
export function senseOfWord(kind: string, text: string): WordSense {
  const { sure, likely } = lookupOf(kind)
  const whole = plainWord(text) || text.trim()
  // What stands in brackets says more of it: “low (2023)”.
  const bare = plainWord(text.replace(/[([][^)\]]*[)\]]/g, ' ')) || whole
  // A number before its word: “2 - moderate”.
  const unnumbered = bare.replace(/^\d\s*[-–=:.)]\s*(?=[a-z])/, '')
  for (const word of [whole, bare, unnumbered, bare.replace(/[-_/]/g, ' ')]) {
    const value = sure.get(word)
    if (value !== undefined) return { value, isSure: true }
  }
  const maybe = likely.get(whole) ?? likely.get(bare)
  if (maybe !== undefined) return { value: maybe, isSure: false }
  const parts = bare.split(/[\s,/&+-]+/).filter((part) => part !== '')
  const meant = [...new Set(parts.map((part) => sure.get(part)).filter((value) => value !== undefined))]
  if (parts.length > 1 && meant.length > 0 && !parts.some((part) => /^(no|not|non|without|un)$/.test(part))) {
    // Of two, as low–moderate, the one that is more.
    const order = valuesOf(kind)
    const value = meant.toSorted((one, other) => order.indexOf(other) - order.indexOf(one))[0] as string
    return { value, isSure: false }
  }
  let near: { value: string; share: number } | null = null
  for (const [word, value] of sure) {
    if (word.length < 4 || !(isSlip(bare, word) || likeness(bare, word) > 0.8)) continue
    const share = likeness(bare, word)
    if (share > (near?.share ?? 0)) near = { value, share }
  }
  // A slip in a long word that is like no word of another value.
  const slipped = new Set([...sure].flatMap(([word, value]) => (word.length >= 7 && isSlip(bare, word) ? [value] : [])))
  const [only] = slipped
  if (slipped.size === 1 && only !== undefined && only === near?.value) return { value: only, isSure: true }
  return { value: near?.value ?? null, isSure: false }
}

const yes = new Set(yesWords.split('|'))
const no = new Set(noWords.split('|'))

/** yes or no, or null where it is neither. */
export function yesOrNo(text: string): boolean | null {
  const word = plainWord(text) || text.trim().toLowerCase()
  if (yes.has(word)) return true
  return no.has(word) ? false : null
}
