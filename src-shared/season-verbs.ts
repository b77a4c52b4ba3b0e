/** The commands on whole seasons. */
const seasonVerbs = ['roll', 'archive'] as const
export type SeasonVerb = (typeof seasonVerbs)[number]

export function isSeasonVerb(verb: string | undefined): verb is SeasonVerb {
  return seasonVerbs.some((each) => each === verb)
}
