/** Days as sheets have them, also without a year and as the number a spreadsheet keeps. Pure. */
import { readDay, slashDay, type DayOrder } from '../sheet/day-text.ts'

export interface DaySense {
  /** Month or day first in 3/4/2027; absent: not known. */
  order?: DayOrder | undefined
  /** Of the crop that is planned. */
  season: number
  /** What happens in the fall of the season, as a load, and not in the fall before it, as an early order. */
  isFall: boolean
}

export type DayRead = { ok: true; value: string; addedYear: boolean } | { ok: false; why: 'order' | 'none' }

/** [day] What spreadsheets count days from. */
const dayZero = Date.UTC(1899, 11, 30)

function cleaned(text: string): string {
  return text
    .trim()
    .replace(
      /^(?:by|until|til|till|thru|through|before|ends?|exp(?:ires)?\.?|good (?:thru|through|until)|due|on|no later than|not later than|from|after|to|valid (?:thru|until))\s*:?\s*/i,
      '',
    )
    .replace(/^(?:mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun)[a-z]*\.?,?\s+/i, '')
    .replace(/\s+(?:\d{1,2}:\d{2}(?::\d{2})?\s*(?:am|pm)?)$/i, '')
    .replace(/(\d)(?:st|nd|rd|th)\b/gi, '$1')
    .replace(/'(\d{2})$/, '20$1')
    .replace(/\s+/g, ' ')
}

/** Where the year is not said: an order or a price of the winter begins in August before the season. */
function yearFor(month: number, { season, isFall }: DaySense): number {
  return !isFall && month >= 8 ? season - 1 : season
}

/** Jan of 01 … */
const monthNames = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']
const monthOf = (name: string) => 1 + monthNames.findIndex((month) => name.toLowerCase().startsWith(month))

export function readDayText(cell: string | number, sense: DaySense): DayRead {
  if (typeof cell === 'number' || /^\d{5}(?:\.0+)?$/.test(cell.trim())) {
    const count = Number(cell)
    if (count < 36_526 || count > 73_415) return { ok: false, why: 'none' }
    return {
      ok: true,
      value: new Date(dayZero + Math.floor(count) * 86_400_000).toISOString().slice(0, 10),
      addedYear: false,
    }
  }
  const text = cleaned(cell)
  const packed = /^(20\d{2})(\d{2})(\d{2})$/.exec(text)
  const slashed = text.replace(/^(\d{4})[/.](\d{1,2})[/.](\d{1,2})$/, '$1-$2-$3')
  const named = slashed
    .replace(
      /^(\d{1,2})[- ]([a-z]{3,9})\.?[- ,]+(\d{4}|\d{2})$/i,
      (_, date: string, month: string, year: string) => `${date} ${month} ${year.length === 2 ? `20${year}` : year}`,
    )
    .replace(
      /^([a-z]{3,9})\.?[- ](\d{1,2}),?[- ]+(\d{4}|\d{2})$/i,
      (_, month: string, date: string, year: string) => `${month} ${date}, ${year.length === 2 ? `20${year}` : year}`,
    )
  const [mdy, dmy] = [slashDay(named, 'mdy'), slashDay(named, 'dmy')]
  if (mdy !== null && dmy !== null && mdy !== dmy) {
    if (sense.order === undefined) return { ok: false, why: 'order' }
    return { ok: true, value: sense.order === 'mdy' ? mdy : dmy, addedYear: false }
  }
  const whole = readDay(packed ? `${packed[1]}-${packed[2]}-${packed[3]}` : named)
  if (whole.ok) return { ok: true, value: whole.value, addedYear: false }
  const monthName = /^(?:([a-z]{3,9})\.?[- ](\d{1,2})|(\d{1,2})[- ]([a-z]{3,9})\.?)$/i.exec(text)
  const month = monthName ? monthOf((monthName[1] ?? monthName[4]) as string) : 0
  if (monthName && month > 0) return withYear(`${month}/${monthName[2] ?? monthName[3]}`)
  return /^\d{1,2}[/.-]\d{1,2}$/.test(text) ? withYear(text, sense.order) : { ok: false, why: 'none' }

  function withYear(monthDay: string, order: DayOrder | undefined = 'mdy'): DayRead {
    const parts = monthDay.split(/[/.-]/).map(Number) as [number, number]
    const of = (each: DayOrder) =>
      slashDay(`${parts[0]}/${parts[1]}/${yearFor(each === 'mdy' ? parts[0] : parts[1], sense)}`, each)
    const [one, other] = [of('mdy'), of('dmy')]
    const only = one === null ? other : other === null || monthName ? one : one === other ? one : null
    if (only !== null) return { ok: true, value: only, addedYear: true }
    if (one === null) return { ok: false, why: 'none' }
    if (sense.order === undefined) return { ok: false, why: 'order' }
    const value = order === 'mdy' ? one : (other as string)
    return { ok: true, value, addedYear: true }
  }
}

/** Which order one text proves: 13/06 can be read in one way only. */
export function provenBy(cell: string): DayOrder | null {
  const match = /^(\d{1,2})[/.-](\d{1,2})(?:[/.-](?:\d{4}|\d{2}))?$/.exec(cleaned(cell))
  if (!match) return null
  const [first, second] = [Number(match[1]), Number(match[2])]
  if (first > 12 && first <= 31 && second <= 12) return 'dmy'
  if (second > 12 && second <= 31 && first <= 12) return 'mdy'
  return null
}

/** What the days of columns prove together; “both” where they contradict one another, null where nothing is proven. */
export function provenOrder(cells: Iterable<string | number | boolean>): DayOrder | 'both' | null {
  let proven: DayOrder | null = null
  for (const cell of cells) {
    if (typeof cell !== 'string') continue
    const order = provenBy(cell)
    if (order !== null && proven !== null && proven !== order) return 'both'
    proven ??= order
  }
  return proven
}
