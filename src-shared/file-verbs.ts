/** The commands on a farm as a file. */
export const fileVerbs = ['backup', 'restore'] as const
export type FileVerb = (typeof fileVerbs)[number]

export function isFileVerb(verb: string | undefined): verb is FileVerb {
  return fileVerbs.some((each) => each === verb)
}
