/**
 * A season as it would be in another kind of year. The book's numbers stay: only pressure, dates, germination and
 * the price of peanuts move. Pure.
 */
import { Book, rangeOf } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import type { Context } from '../../../src-shared/agronomy/context.ts'
import { groundFor } from '../../../src-shared/agronomy/crop.ts'
import { levelsOf } from '../../../src-shared/agronomy/levels.ts'
import { addDays } from '../../../src-shared/agronomy/harvest.ts'
import { pressureLevels, type PressureLevel } from '../../../src-shared/field.ts'
import type { YearName } from '../../../src-shared/hard-year.ts'
import type { Season } from '../../../src-shared/season.ts'
import { showMonthDay } from '../../../src-shared/sheet/day-text.ts'
import { windowKinds, type PlantingWindow } from '../../../src-shared/window.ts'
import type { OfferedSeason } from './price.ts'

/** [day] by which a late spring moves every window. Our estimate. */
export const LATE_DAYS = 14
/** [share] by which every variety germinates less where seed is weak. Our estimate. */
const WEAK_BY = 0.1
/** [share] of the price that is left where the book has no low end. Our estimate. */
const LOW_PRICE_SHARE = 0.85
const PRICE_KEY = 'price/peanuts'

/** @param context of the same season: says what level a soil count stands for */
export function seasonIn(
  year: YearName,
  season: OfferedSeason,
  context: Context,
): { season: OfferedSeason; says: string } {
  if (year === 'usual') return { season, says: 'A year as the plan expects it.' }
  // Goals speak of the usual year: what the ground could make does not move with the weather.
  const attainable = new Map(season.fields.map((field) => [field.name, groundFor(context, field).attainableLb]))
  return otherYear(year, { ...season, attainable }, context)
}

function otherYear(
  year: Exclude<YearName, 'usual'>,
  season: OfferedSeason,
  context: Context,
): { season: OfferedSeason; says: string } {
  switch (year) {
    case 'calm':
      return { season: withPressure(season, context, -1), says: 'Every threat one level lower than expected.' }
    case 'hard':
      return {
        season: withPressure(season, context, 1),
        says: 'Every threat one level higher than expected, where there is any.',
      }
    case 'late spring':
      return {
        season: { ...season, windows: season.windows.map((window) => later(window, season.season)) },
        says: `Every window ${LATE_DAYS} days later, and counted as the later kind.`,
      }
    case 'wet fall': {
      const share = context.book.number('calendar/bad year')
      return { season, says: `${Math.round(share * 100)} % of the usual days are fit for digging and combining.` }
    }
    case 'early frost': {
      const frost = frostIn(context)
      return { season, says: `Frost on ${showMonthDay(frost.slice(5))}: what is not ripe by then ripens no further.` }
    }
    case 'weak seed':
      return {
        season: {
          ...season,
          varieties: season.varieties.map((variety) => ({
            ...variety,
            germination: Math.max(0.3, variety.germination - WEAK_BY),
          })),
        },
        says: `Every lot germinates ${WEAK_BY * 100} points less than expected.`,
      }
    case 'low price': {
      const price = lowPrice(season)
      return {
        season: withPrice(season, price),
        says: `${season.contracts.length > 0 ? 'Peanuts without a contract' : 'Peanuts'} bring $${price.toLocaleString('en-US', { maximumFractionDigits: 2 })} a ton.`,
      }
    }
  }
}

/** The day on which a year of early frost ends ripening, ISO date. */
export function frostIn({ book, calendar }: Context): string {
  return addDays(calendar.lastDigging, -Math.round(book.number('calendar/early frost')))
}

/** Ground without a threat stays without it: a bad year does not bring what is not there. */
function withPressure(season: OfferedSeason, context: Context, by: 1 | -1): OfferedSeason {
  const shifted = (level: PressureLevel): PressureLevel => {
    const at = pressureLevels.indexOf(level)
    return at === 0 ? level : (pressureLevels[Math.min(at + by, pressureLevels.length - 1)] as PressureLevel)
  }
  return {
    ...season,
    fields: season.fields.map((field) => {
      const levels = levelsOf(context, field)
      return {
        ...field,
        pressure: Object.fromEntries(
          context.threats.map((threat, t) => [threat.name, shifted(levels[t] as PressureLevel)]),
        ),
      }
    }),
  }
}

function later(window: PlantingWindow, year: number): PlantingWindow {
  const at = windowKinds.indexOf(window.kind)
  const moved = (day: string) => addDays(`${year}-${day}`, LATE_DAYS).slice(5)
  return {
    ...window,
    kind: windowKinds[Math.min(at + 1, windowKinds.length - 1)] as PlantingWindow['kind'],
    opens: moved(window.opens),
    closes: moved(window.closes),
  }
}

/** [$/ton] the low end of the book's range. */
function lowPrice(season: Season): number {
  const { low, usual } = rangeOf(new Book(starterBook, season.assumptions).row(PRICE_KEY))
  return low < usual ? low : usual * LOW_PRICE_SHARE
}

function withPrice(season: OfferedSeason, price: number): OfferedSeason {
  const row = new Book(starterBook, season.assumptions).row(PRICE_KEY)
  return {
    ...season,
    assumptions: [...season.assumptions.filter((each) => each.key !== PRICE_KEY), { ...row, value: price }],
  }
}
