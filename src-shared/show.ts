/** Values → text, for screen, paper and terminal alike. The only formatter, so that they cannot differ. */

// Kept: making one takes as long as using it forty times, and a grid shows thousands of figures.
const whole = new Intl.NumberFormat('en-US', { maximumFractionDigits: 0 })
// A nought that comes of rounding has no sign.
const inDollars = { style: 'currency', currency: 'USD', signDisplay: 'negative' } as const
const wholeDollars = new Intl.NumberFormat('en-US', { ...inDollars, maximumFractionDigits: 0 })
const exactDollars = new Intl.NumberFormat('en-US', inDollars)
const days = new Intl.DateTimeFormat('en-US', { month: 'short', day: 'numeric', year: 'numeric', timeZone: 'UTC' })
const dates = new Intl.DateTimeFormat('en-US', { month: 'short', day: 'numeric', timeZone: 'UTC' })
const moments = new Intl.DateTimeFormat('en-US', { month: 'short', day: 'numeric', hour: 'numeric', minute: '2-digit' })

/** 1,284 */
export function showWhole(value: number): string {
  return whole.format(value)
}

/** 88 or 88.4: one decimal where there is one. */
export function showAcres(acres: number): string {
  return atMost(acres, 1)
}

/** $191,360 */
export function showDollars(cents: number): string {
  return withMinus(wholeDollars.format(cents / 100))
}

/** $46.10 */
export function showCents(cents: number): string {
  return withMinus(exactDollars.format(cents / 100))
}

/** With a real minus sign, as changes have. */
function withMinus(text: string): string {
  return text.replace('-', '−')
}

/** $46.10/ac; a dash where there are no acres. */
export function showPerAcre(cents: number, acres: number): string {
  return acres > 0 ? `${exactDollars.format(cents / 100 / acres)}/ac` : '–'
}

/** +$4.10 or −$4.10, with a real minus sign; empty for less than half a cent. */
export function showChange(cents: number): string {
  if (Math.abs(cents) < 0.5) return ''
  return `${cents > 0 ? '+' : '−'}${exactDollars.format(Math.abs(cents) / 100)}`
}

/** 3 % or 2.5 % */
export function showPercent(share: number, decimals = 1): string {
  return `${Number((share * 100).toFixed(decimals))} %`
}

/** 1 bag, 2 bags */
export function showCount(count: number, one: string, many = `${one}s`): string {
  return `${whole.format(count)} ${count === 1 ? one : many}`
}

/** 0.98 or 5.08: always so many decimals, thousands separated. */
export function showNumber(value: number, decimals: number): string {
  return numberFormat(decimals, decimals).format(value)
}

/** 88, 88.4 or 88.41: as many decimals as there are, up to so many. */
export function atMost(value: number, decimals: number): string {
  return numberFormat(0, decimals).format(value)
}

const numberFormats = new Map<string, Intl.NumberFormat>()

function numberFormat(minimumFractionDigits: number, maximumFractionDigits: number): Intl.NumberFormat {
  const key = `${minimumFractionDigits} ${maximumFractionDigits}`
  let format = numberFormats.get(key)
  if (!format) {
    format = new Intl.NumberFormat('en-US', { minimumFractionDigits, maximumFractionDigits })
    numberFormats.set(key, format)
  }
  return format
}

/** +12 or −12 with thousands separated; empty for less than half of one. */
export function showWholeChange(value: number): string {
  if (Math.abs(value) < 0.5) return ''
  return `${value > 0 ? '+' : '−'}${whole.format(Math.abs(value))}`
}

/** +$1,250 or −$1,250; empty for less than half a dollar. */
export function showDollarChange(cents: number): string {
  if (Math.abs(cents) < 50) return ''
  return `${cents > 0 ? '+' : '−'}${wholeDollars.format(Math.abs(cents) / 100)}`
}

/** 2027-03-15 → Mar 15, 2027 */
export function showDay(isoDay: string): string {
  const day = new Date(`${isoDay}T00:00:00Z`)
  return Number.isNaN(day.getTime()) ? isoDay : days.format(day)
}

/** 2027-05-03 → May 3: where the year is plain, as in a season. */
export function showDate(isoDay: string): string {
  const day = new Date(`${isoDay}T00:00:00Z`)
  return Number.isNaN(day.getTime()) ? isoDay : dates.format(day)
}

/** The moment of an ISO time on this machine's clock: Nov 25, 2:02 PM */
export function showMoment(isoTime: string): string {
  const moment = new Date(isoTime)
  return Number.isNaN(moment.getTime()) ? isoTime : moments.format(moment)
}

/** Words that fit: longer ones end in “…”, and no sign of two halves, as an emoji is, is cut between them. */
export function showShort(words: string, most: number): string {
  if (words.length <= most) return words
  const cut = words.slice(0, most - 1)
  return `${cut.isWellFormed() ? cut : cut.slice(0, -1)}…`
}
