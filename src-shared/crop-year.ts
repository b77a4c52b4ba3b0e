/**
 * The farm's calendar, once: which crop year a day is for, and where in a season's year a day lies. Seed is planted from
 * April and dug from August; from July on, what is planned is the next year's crop. Common practice, no source.
 */
export type SeasonOfYear = 'winter' | 'spring' | 'fall'

/** ISO day → the crop year that a farm begun on that day is for. */
export function cropYearOf(day: string): number {
  return Number(day.slice(0, 4)) + (day.slice(5) >= '07-01' ? 1 : 0)
}

/** The last crop year whose harvest is in: from November on, this year's. */
export function harvestedYear(day: string): number {
  return Number(day.slice(0, 4)) - (day.slice(5) >= '11-01' ? 0 : 1)
}

/**
 * Where a day lies in a season: winter until March, spring until July, fall until the next crop is all that is left to
 * plan. Null where the season is not this year's.
 * @param season crop year
 */
export function placeInYear(season: number, day: string): SeasonOfYear | null {
  const year = Number(day.slice(0, 4))
  const date = day.slice(5)
  if (year === season) return date < '04-01' ? 'winter' : date < '08-01' ? 'spring' : 'fall'
  return cropYearOf(day) === season ? 'winter' : null
}
