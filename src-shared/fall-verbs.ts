/** The commands of fall. */
export const fallVerbs = ['roll', 'archive'] as const
export type FallVerb = (typeof fallVerbs)[number]

export function isFallVerb(verb: string | undefined): verb is FallVerb {
  return fallVerbs.some((each) => each === verb)
}
