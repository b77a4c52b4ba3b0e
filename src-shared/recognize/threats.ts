/** How spreadsheets head the disease or pest of a column, by the name that the farm keeps it under. Data. Common practice, no source. */

/** Heads that stand for several at once: one rating serves each of them. */
export const sharedHeads: readonly { heads: string; threats: readonly string[] }[] = [
  {
    heads:
      'leaf spot|leafspot|ls|spots|spot|leaf spt|lf spt|lfspt|leaf sp|ls hist|leaf|leaf spots|leaf spot disease|els/lls|early & late leaf spot|early/late leaf spot|lfspot|foliar disease|leaf disease|leaf spot complex|els lls',
    threats: ['early leaf spot', 'late leaf spot'],
  },
]

const heads: Readonly<Record<string, string>> = {
  'early leaf spot': 'els|early leaf spot|early leafspot|early ls|cercospora|e leaf spot',
  'late leaf spot': 'lls|late leaf spot|late leafspot|late ls|cercosporidium|nothopassalora|l leaf spot',
  'southern stem rot':
    'white mold|mold|mould|wh mold|wht mold|w m|wmold|rot|sclerotium rolfsii|stem rot|southern stem rot|southern blight|wm|ssr|sclerotium|white mould|s rolfsii|stemrot|athelia|soil disease|soilborne',
  'spotted wilt':
    'tswv|sp wilt|spot wilt|tomato wilt|spotted wilt|tomato spotted wilt|wilt|tomato spotted wilt virus|tsw|spotted wilt virus|virus',
  'root-knot nematode':
    'rkn|knot|root kn|rt knot|nematode damage|nematode problem|root knot|root knot nematode|nematode|peanut root knot|rootknot|nematode resistance|rk nematode|nem|nematode rating|nematode pressure|nematodes|m arenaria',
}

/** Words of a heading or a laboratory's report → which root-knot nematode was counted. */
const speciesWords: readonly { species: string; words: RegExp }[] = [
  { species: 'peanut root-knot', words: /\barenaria\b|\bpeanut root[- ]?knot\b/i },
  { species: 'southern root-knot', words: /\bincognita\b|\bsouthern root[- ]?knot\b|\bcotton root[- ]?knot\b/i },
  { species: 'other', words: /\bjavanica\b|\bhapla\b|\b(?:northern|javanese) root[- ]?knot\b/i },
]

/** @returns the species that a text names; undefined where it names none, or several */
export function speciesIn(text: string): string | undefined {
  const named = speciesWords.filter(({ words }) => words.test(text))
  return named.length === 1 ? named[0]?.species : undefined
}

/** @param threat as the farm names it; one that nobody knows is headed by its own name */
export const headsOfThreat = (threat: string): string =>
  Object.hasOwn(heads, threat.toLowerCase()) ? `${threat}|${heads[threat.toLowerCase()]}` : threat
