/**
 * The value kinds that every noun is made of, each with its range. A number that is out of range is refused
 * at the door, never clamped. Used by the contract, the season file and the problem file alike.
 */
import * as v from 'valibot'

/** Text without the character that ends a text in SQLite and in C: what stands after it would be there and not be seen. */
const text = v.pipe(
  v.string('must be text'),
  v.check((given) => !given.includes('\u0000'), 'must not hold the character NUL'),
)

/** Words of at least one character and at most so many, without the blanks around them. */
export function words(most: number) {
  const limit = `must not be longer than ${most.toLocaleString('en-US')} characters`
  return v.pipe(
    text,
    v.trim(),
    v.minLength(1, 'must not be empty'),
    // Signs without width or ink, as a paste from a web page may bring: two such names would look the same, and like none.
    v.check((given) => given === '' || /[^\p{Z}\p{C}]/u.test(given), 'must not be empty'),
    v.maxLength(most, limit),
  )
}

/** A name that people use to tell things apart: trimmed, 1–80 characters. */
export const nameText = words(80)

/** Free words, up to 2,000 characters. */
export const note = v.pipe(text, v.maxLength(2000, 'must not be longer than 2,000 characters'))

/** A finite number between the two, both allowed; the message names the range. */
export function between(low: number, high: number) {
  const range = `must be a number from ${low.toLocaleString('en-US')} to ${high.toLocaleString('en-US')}`
  return v.pipe(v.number(range), v.finite(range), v.minValue(low, range), v.maxValue(high, range))
}

/** A whole number between the two, both allowed. */
export function wholeBetween(low: number, high: number) {
  const range = `must be a whole number from ${low.toLocaleString('en-US')} to ${high.toLocaleString('en-US')}`
  return v.pipe(v.number(range), v.integer(range), v.minValue(low, range), v.maxValue(high, range))
}

/** Of a row in the sheet that it came from; lists keep that order. */
export const position = wholeBetween(1, 1_000_000)

/** Of a row in a table of the farm's file. */
export const rowId = v.pipe(v.number(), v.integer(), v.minValue(1))

/** [acre] more than nothing, at most 100,000. */
export const acres = v.pipe(
  v.number('must be a number of acres'),
  v.finite('must be a number of acres'),
  v.gtValue(0, 'must be more than 0 acres'),
  v.maxValue(100_000, 'must not be more than 100,000 acres'),
)

/** [share] 0–1. */
export const fraction = between(0, 1)

/** [cent] whole, not negative, up to $100 million. */
export const cents = wholeBetween(0, 10_000_000_000)

/** Calendar day as 2027-04-28, of the years 1900–2299; refuses days that do not exist. */
export const isoDate = v.pipe(
  v.string('must be a date such as 2027-04-28'),
  // A spreadsheet writes an empty day as 1899-12-30, and a year of two digits may come as 0027.
  v.check((text) => isRealDay(text) && text >= '1900' && text < '2300', 'must be a date such as 2027-04-28'),
)

/** Day of the year as 04-28. */
export const monthDay = v.pipe(
  v.string('must be a day such as 04-28'),
  v.check((text) => isRealDay(`2024-${text}`), 'must be a day such as 04-28'),
)

function isRealDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false
  const day = new Date(`${text}T00:00:00Z`)
  return !Number.isNaN(day.getTime()) && day.toISOString().slice(0, 10) === text
}
