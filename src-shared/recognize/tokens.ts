/** Headings and words as tokens that can be compared: small letters, no punctuation, the trade's short forms written out. Pure. */
import { longForms, pairs } from './short-forms.ts'

/** A text in small letters, without accents and punctuation but for the signs that are units, as $ % # " and /. */
export function plainText(text: string): string {
  // Most names and words need none of what follows, and a long file has many of them.
  if (/^[A-Za-z0-9 ]*$/.test(text) && !/[a-z][A-Z]/.test(text)) return text.toLowerCase().replace(/ +/g, ' ').trim()
  return text
    .replace(/([a-z])([A-Z][a-z])/g, '$1 $2')
    .replace(/([a-z]{2})([A-Z]{2,})/g, '$1 $2')
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .replace(/[″”“„]|''/g, '"')
    .replace(/[’‘`´]/g, "'")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}$%#"'/¢]+/gu, ' ')
    .replace(/(\p{L})'(?=\p{L}|\s|$)/gu, '$1')
    .trim()
}

const plurals = new Set([
  'gross',
  'loss',
  'class',
  'bus',
  'gas',
  'grass',
  'less',
  'max',
  'is',
  'us',
  'plus',
  'days',
  'hours',
  'previous',
])

function singular(token: string): string {
  if (token.length < 4 || plurals.has(token) || !token.endsWith('s') || token.endsWith('ss')) return token
  if (token.endsWith('ies')) return `${token.slice(0, -3)}y`
  return token.slice(0, -1)
}

/** Tokens of a heading, short forms written out: “Peanut Ac.” → peanut acre. */
export function tokensOf(text: string): string[] {
  // Behind a word it is a number, behind a stroke or a figure pounds: “Farm #”, “seed/#”, “50#”.
  const numbered = text
    .replace(/(?<!\bper|\ba)(?<=[a-z.])\s*#(?!\d)/gi, ' number')
    .replace(/^\s*#\s*(?=[a-z])/i, 'number ')
  const parts = plainText(numbered)
    .replace(/[/"$%#¢']/g, ' $& ')
    .split(' ')
    .filter((part) => part !== '' && part !== '/' && part !== "'")
    .map((part) => longForms.get(part) ?? longForms.get(singular(part)) ?? singular(part))
    .flatMap((part) => part.split(' '))
  const out: string[] = []
  for (const part of parts) {
    out.push(part)
    // A pair may itself be the second of another: early + (leaf + spot).
    for (let pair = pairOf(out); pair !== undefined; pair = pairOf(out)) out.splice(-2, 2, pair)
  }
  return out
}

const pairOf = (tokens: readonly string[]) => pairs.get(tokens.slice(-2).join(' '))

/** Names alike but for capitals, blanks, punctuation and accents are one: “Miss Ora’s Back” → missorasback. */
export function plainName(text: string): string {
  return plainText(text)
    .replace(/&|\band\b/g, ' ')
    .replace(/[^\p{L}\p{N}]+/gu, '')
}
