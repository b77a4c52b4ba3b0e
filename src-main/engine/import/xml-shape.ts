/**
 * A look over XML before it is parsed, in one pass: a parser that mends what is broken can take hours over a file of opening
 * brackets or of levels without end.
 */

/** Map programs nest folders a few levels deep. */
const mostLevels = 100
/** A county of fields has some 20 elements each. */
const mostElements = 500_000

/** What is wrong with it, as the end of a sentence; null where it may be parsed. */
export function xmlFault(text: string): string | null {
  let level = 0
  let elements = 0
  for (let at = text.indexOf('<'); at >= 0; at = text.indexOf('<', at)) {
    const passed = passedOver.find(([mark]) => text.startsWith(mark, at))
    if (passed) {
      const end = text.indexOf(passed[1], at + passed[0].length)
      if (end < 0) return broken
      at = end + passed[1].length
      continue
    }
    const end = endOfTag(text, at + 1)
    if (end < 0) return broken
    if (text[at + 1] === '/') level -= 1
    else {
      elements += 1
      if (text[end - 1] !== '/') level += 1
    }
    if (level < 0) return broken
    if (level > mostLevels) return 'it has too many levels'
    if (elements > mostElements) return 'it has too many elements'
    at = end + 1
  }
  return level === 0 ? null : broken
}

const broken = 'it is damaged or of another format'

/** What holds no elements, by how it begins and ends. */
const passedOver: [begins: string, ends: string][] = [
  ['<!--', '-->'],
  ['<![CDATA[', ']]>'],
  ['<?', '?>'],
]

/** Place of the bracket that closes a tag, outside of quotes; -1 where another opens first. A value holds no `<` by XML 1.0. */
function endOfTag(text: string, from: number): number {
  let quote = ''
  for (let at = from; at < text.length; at += 1) {
    const letter = text[at] as string
    if (letter === '<') return -1
    if (quote !== '') {
      if (letter === quote) quote = ''
    } else if (letter === '"' || letter === "'") quote = letter
    else if (letter === '>') return at
  }
  return -1
}
