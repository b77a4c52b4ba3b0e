/**
 * The demo farm never grows old: its season is moved by whole years to the one that is planned on a given day, so that
 * its quotes have not ended and its fields have just had the crops they are said to have had. Pure.
 */
import { cropYearOf } from '../../src-shared/crop-year.ts'
import type { Season } from '../../src-shared/season.ts'

/** Crop years that a season can have. */
const [first, last] = [2000, 2200]

/** [day] before the first quote ends, at the least: time to look around. */
const timeToOrder = 14

/** The demo as of the year that is planned on a day. */
export function seasonOn(written: Season, today: string): Season {
  const year = cropYearOf(today)
  // A machine whose clock is far off sees the demo as it was written.
  return year < first || year > last ? written : stillOpen(seasonOfYear(written, year), today)
}

/** Late in the winter or in spring its quotes would have ended: they then end as many days later as they must. */
function stillOpen(season: Season, today: string): Season {
  const ends = season.quotes.flatMap(({ orderBy }) => orderBy ?? []).sort()
  const [firstEnd] = ends
  if (firstEnd === undefined || firstEnd >= today) return season
  const days = Math.round((Date.parse(today) - Date.parse(firstEnd)) / day) + timeToOrder
  return {
    ...season,
    quotes: season.quotes.map((quote) => ({
      ...quote,
      ...(quote.orderBy === undefined ? {} : { orderBy: daysOn(quote.orderBy, days) }),
      ...(quote.returnBy === undefined ? {} : { returnBy: daysOn(quote.returnBy, days) }),
    })),
  }
}

/** [ms] */
const day = 86_400_000

const daysOn = (date: string, days: number) => new Date(Date.parse(date) + days * day).toISOString().slice(0, 10)

/** The season as it is written, so that it is planned for a crop year. */
export function seasonOfYear(written: Season, year: number): Season {
  const years = year - written.season
  return {
    ...written,
    season: year,
    fields: written.fields.map((field) => ({
      ...field,
      history: field.history.map((entry) => ({ ...entry, season: entry.season + years })),
    })),
    quotes: written.quotes.map((quote) => ({
      ...quote,
      ...(quote.orderBy === undefined ? {} : { orderBy: yearsOn(quote.orderBy, years) }),
      ...(quote.returnBy === undefined ? {} : { returnBy: yearsOn(quote.returnBy, years) }),
    })),
  }
}

/** The same day so many years on; the 29th of February is the 28th where a year has none. */
export function yearsOn(date: string, years: number): string {
  const year = Number(date.slice(0, 4)) + years
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0
  const day = date.slice(5) === '02-29' && !isLeap ? '02-28' : date.slice(5)
  return `${String(year).padStart(4, '0')}-${day}`
}
