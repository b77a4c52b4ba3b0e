/** What the command line can do with a farm file in fall. */
export const fallVerbs = ['review'] as const
export type FallVerb = (typeof fallVerbs)[number]

export function isFallVerb(verb: string | undefined): verb is FallVerb {
  return fallVerbs.some((each) => each === verb)
}
