/** Days as people write them → ISO. A day that could be read two ways is refused with both readings named. */
import type { Reading } from '../read-text.ts'
import { showDay } from '../show.ts'

const months = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']

/** Which of the three comes first in 3/4/2027. */
export const dayOrders = ['mdy', 'dmy'] as const
export type DayOrder = (typeof dayOrders)[number]

function two(part: number | string): string {
  return String(part).padStart(2, '0')
}

/** 2027-03-15, or null where there is no such day. */
function isoOf(year: number, month: number, day: number): string | null {
  const iso = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`
  const made = new Date(`${iso}T00:00:00Z`)
  return !Number.isNaN(made.getTime()) && made.toISOString().slice(0, 10) === iso ? iso : null
}

/** 3/15/2027, 3-15-27 or 15.3.2027 in the order given → ISO; null where it is none in that order. */
export function slashDay(text: string, order: DayOrder): string | null {
  const match = /^(\d{1,2})[/.-](\d{1,2})[/.-](\d{4}|\d{2})$/.exec(text.trim())
  if (!match) return null
  const [first, second, third] = match.slice(1).map(Number) as [number, number, number]
  const year = third < 100 ? 2000 + third : third
  return order === 'mdy' ? isoOf(year, first, second) : isoOf(year, second, first)
}

/** A name of a month by its first letters → 1–12, or 0. */
function monthOf(name: string): number {
  return 1 + months.findIndex((month) => name.toLowerCase().startsWith(month))
}

/** 2027-03-15 · Mar 15, 2027 · 15 March 2027 · 3/15/2027 where it can be no other day. */
export function readDay(text: string): Reading<string> {
  const plain = text.trim()
  const iso = /^(\d{4})-(\d{1,2})-(\d{1,2})(?:T.*)?$/.exec(plain)
  const named = /^([a-z]{3,9})\.? (\d{1,2}),? (\d{4})$/i.exec(plain)
  const turned = /^(\d{1,2})\.? ([a-z]{3,9})\.?,? (\d{4})$/i.exec(plain)
  const found = iso
    ? isoOf(Number(iso[1]), Number(iso[2]), Number(iso[3]))
    : named
      ? isoOf(Number(named[3]), monthOf(named[1] as string), Number(named[2]))
      : turned
        ? isoOf(Number(turned[3]), monthOf(turned[2] as string), Number(turned[1]))
        : null
  if (found !== null) return { ok: true, value: found }
  const [one, other] = [slashDay(plain, 'mdy'), slashDay(plain, 'dmy')]
  if (one !== null && other !== null && one !== other) {
    return { ok: false, what: `"${text}" could be ${showDay(one)} or ${showDay(other)}; write it as ${one}` }
  }
  const only = one ?? other
  return only === null ? { ok: false, what: `"${text}" is not a date such as 2027-03-15` } : { ok: true, value: only }
}

/** 04-28 · Apr 28 · 28 April → 04-28. */
export function readMonthDay(text: string): Reading<string> {
  const plain = text.trim()
  const digits = /^(\d{1,2})-(\d{1,2})$/.exec(plain)
  const named = /^([a-z]{3,9})\.? (\d{1,2})$/i.exec(plain)
  const turned = /^(\d{1,2})\.? ([a-z]{3,9})$/i.exec(plain)
  // A leap year, so that 02-29 is a day.
  const found = digits
    ? isoOf(2024, Number(digits[1]), Number(digits[2]))
    : named
      ? isoOf(2024, monthOf(named[1] as string), Number(named[2]))
      : turned
        ? isoOf(2024, monthOf(turned[2] as string), Number(turned[1]))
        : null
  if (found === null) return { ok: false, what: `"${text}" is not a day such as 04-28 or Apr 28` }
  return { ok: true, value: found.slice(5) }
}

/** 04-28 → Apr 28 */
export function showMonthDay(monthDay: string): string {
  const [month, date] = monthDay.split('-').map(Number) as [number, number]
  const name = months[month - 1] ?? ''
  return `${name.charAt(0).toUpperCase()}${name.slice(1)} ${date}`
}
