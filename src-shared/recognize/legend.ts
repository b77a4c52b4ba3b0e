/** What a key beside a table says of its short words: “P = peanut, CT or C = cotton” → ct, c: cotton. Pure. */
import { plainWord } from './question.ts'

const short = String.raw`[\p{L}][\p{L}+/#-]{0,11}`
const pair = new RegExp(
  String.raw`(${short}(?:\s*(?:,|\bor\b)\s*${short})*)\s*(?:=|\bmeans\b|\bis for\b)\s*(\p{L}[\p{L} .-]{1,28}?)(?=\.?\s*(?:[,;|()]|$|\s${short}(?:\s+or\s+${short})?\s*(?:=|\bmeans\b)))`,
  'giu',
)

/** One of a list without signs: “(PN peanuts - CO cotton - W/S wheat then soybeans)”. */
const bare = /^([A-Z][A-Z/]{0,3})\s+([a-z][a-z ]{2,28})$/

/** @returns pairs of a list of which every part is a short word in capitals and what it stands for */
function bareList(text: string): [string, string, string][] {
  const parts = text
    .replace(/^[^(]*\(|\).*$|^key:?\s*/gi, '')
    .split(/\s+[-–—]\s+|\s*[,;]\s*/)
    .map((part) => bare.exec(part.trim()))
  return parts.length > 1 && parts.every((part) => part !== null)
    ? parts.map(([all, word = '', meaning = '']) => [all, word, meaning])
    : []
}

/** @param texts above and below the table @returns plain word → what it stands for; a word with two meanings is left out */
export function legendOf(texts: readonly string[]): ReadonlyMap<string, string> {
  const out = new Map<string, string>()
  const doubtful = new Set<string>()
  for (const [, words = '', meaning = ''] of texts.flatMap((text) => [...text.matchAll(pair), ...bareList(text)])) {
    for (const each of words.split(/\s*(?:,|\bor\b)\s*/i)) {
      const word = plainWord(each)
      if (word === '') continue
      if (out.has(word) && plainWord(out.get(word) ?? '') !== plainWord(meaning)) doubtful.add(word)
      out.set(word, meaning.trim())
    }
  }
  for (const word of doubtful) out.delete(word)
  return out
}
