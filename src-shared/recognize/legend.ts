/** What a key beside a table says of its short words: “P = peanut, CT or C = cotton” → ct, c: cotton. Pure. */
import { plainWord } from './question.ts'

const short = String.raw`[\p{L}][\p{L}+/#-]{0,11}`
const pair = new RegExp(
  String.raw`(${short}(?:\s*(?:,|\bor\b)\s*${short})*)\s*(?:=|\bmeans\b|\bis for\b)\s*(\p{L}[\p{L} .-]{1,28}?)(?=\.?\s*(?:[,;|()]|$|\s${short}(?:\s+or\s+${short})?\s*(?:=|\bmeans\b)))`,
  'giu',
)

/** @param texts above and below the table @returns plain word → what it stands for; a word with two meanings is left out */
export function legendOf(texts: readonly string[]): ReadonlyMap<string, string> {
  const out = new Map<string, string>()
  const doubtful = new Set<string>()
  for (const [, words = '', meaning = ''] of texts.flatMap((text) => [...text.matchAll(pair)])) {
    for (const each of words.split(/\s*(?:,|\bor\b|\/)\s*/i)) {
      const word = plainWord(each)
      if (word === '') continue
      if (out.has(word) && plainWord(out.get(word) ?? '') !== plainWord(meaning)) doubtful.add(word)
      out.set(word, meaning.trim())
    }
  }
  for (const word of doubtful) out.delete(word)
  return out
}
