/** Planting windows as earlier versions had them, with the days fit for planting, in the words of now: weeks have the days. */
import { addDays, daysBetween, weekOf } from './agronomy/harvest.ts'
import type { SeasonWeek } from './week.ts'

interface FormerWindow {
  opens: string
  closes: string
  fitDays: number
}

/** A window's days go to its weeks evenly, by the days that each shares with it. */
export function weeksOfWindows(windows: readonly FormerWindow[], season: number): SeasonWeek[] {
  const days = new Map<string, number>()
  for (const { opens, closes, fitDays } of windows) {
    const [from, until] = [`${season}-${opens}`, `${season}-${closes < opens ? opens : closes}`]
    const all = daysBetween(from, until) + 1
    for (let day = from; day <= until; day = addDays(day, 1)) {
      const week = weekOf(day)
      days.set(week, (days.get(week) ?? 0) + fitDays / all)
    }
  }
  return [...days]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([week, fit]) => ({ starts: week.slice(5), plantingDays: Math.min(7, Math.round(fit * 10) / 10) }))
}

/** A season of now from one whose windows have days; what is neither is handed on, for the schema to refuse. */
export function withWeeks(raw: Record<string, unknown>): Record<string, unknown> {
  const { windows, season, weeks } = raw
  if (!Array.isArray(windows) || typeof season !== 'number') return raw
  const former = windows.filter(isFormer)
  if (former.length === 0) return raw
  return {
    ...raw,
    windows: windows.map((window: unknown) => (isFormer(window) ? withoutDays(window) : window)),
    weeks: weeks ?? weeksOfWindows(former, season),
  }
}

function isFormer(window: unknown): window is FormerWindow {
  const { opens, closes, fitDays } = (window ?? {}) as Partial<Record<keyof FormerWindow, unknown>>
  return isMonthDay(opens) && isMonthDay(closes) && typeof fitDays === 'number'
}

function isMonthDay(text: unknown): boolean {
  return typeof text === 'string' && /^\d{2}-\d{2}$/.test(text) && !Number.isNaN(Date.parse(`2000-${text}`))
}

function withoutDays({ fitDays: _, ...window }: FormerWindow): Omit<FormerWindow, 'fitDays'> {
  return window
}
