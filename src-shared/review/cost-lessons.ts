/** What the bills teach: the price of a measure, the cost of a machine's hour. */
import type { Context } from '../agronomy/context.ts'
import { hoursPerAcre } from '../agronomy/harvest.ts'
import { showCents, showWhole } from '../show.ts'
import { entryCents } from './entry-cents.ts'
import { acresOn } from './ground.ts'
import type { Lesson } from './lesson.ts'
import { offered } from './offer.ts'
import type { Reckoning } from './review.ts'
import { namesMeasure } from './work-bills.ts'

/**
 * The price of a measure [cent/acre], where bills for it were written down and it was used.
 * @param now the season that would learn it
 */
export function measureLessons({ record, ground }: Reckoning, now: Context): Lesson[] {
  return now.season.measures.flatMap((measure): Lesson[] => {
    const entries = record.costs.filter((entry) => entry.kind === 'measure' && namesMeasure(entry, measure.name))
    const used = ground.fields.flatMap(({ field, parts, plantings }) => {
      const ids = plantings.filter((each) => each.measures.includes(measure.name)).map(({ id }) => id)
      const acres = parts.reduce((sum, part) => (ids.includes(part.plantingId) ? sum + part.acres : sum), 0)
      return acres > 0 ? [{ field: field.name, acres }] : []
    })
    const fields = new Set(entries.map(({ field }) => field))
    const acres = used.reduce(
      (sum, each) => (fields.has(undefined) || fields.has(each.field) ? sum + each.acres : sum),
      0,
    )
    if (entries.length === 0 || acres <= 0) return []
    const cents = entries.reduce((sum, entry) => {
      return sum + entryCents(entry, acresOn(ground, entry.field))
    }, 0)
    return offered(now, {
      kind: 'measure',
      key: `measure/${measure.name}/centsPerAcre`,
      about: `Price of ${measure.name}`,
      evidence: `${showCents(cents)} was paid for it on ${showWhole(acres)} acres: ${showCents(cents / acres)} an acre.`,
      unit: '$/acre',
      old: measure.centsPerAcre / 100,
      seen: cents / 100 / acres,
      count: 1,
      speaks: 'seasons',
      decimals: 2,
      least: 0,
      most: 100_000,
      show: (value) => `${showCents(value * 100)}/acre`,
      change: (value) => ({
        to: 'sheet',
        sheet: 'measure',
        name: measure.name,
        path: 'centsPerAcre',
        value: Math.round(value * 100),
      }),
    })
  })
}

/** What an hour of a machine came to, where digging or combining was written down as paid. The pace itself nobody wrote down. */
export function hourLessons({ record, ground, context }: Reckoning, now: Context): Lesson[] {
  const pairs = [
    ['digging', 'digger'],
    ['combining', 'combine'],
  ] as const
  return pairs.flatMap(([kind, machine]): Lesson[] => {
    const entries = record.costs.filter((entry) => entry.kind === kind)
    const fields = new Set(entries.map(({ field }) => field))
    const own = ground.parts.filter(({ field }) => fields.has(undefined) || fields.has(field))
    const worked = own.reduce((sum, { variety, field, acres }) => {
      const vine = context.season.varieties.find(({ name }) => name === variety)?.vine
      const growth = context.season.fields.find(({ name }) => name === field)?.growth
      const slowing = vine && growth ? context.vine[vine][growth].slowing : 0
      return sum + acres * hoursPerAcre(record.season.machines, machine, slowing)
    }, 0)
    if (entries.length === 0 || worked <= 0) return []
    const cents = entries.reduce((sum, entry) => {
      return sum + entryCents(entry, acresOn(ground, entry.field))
    }, 0)
    const key = `harvest/${machine} hour`
    return offered(now, {
      kind: 'machine hour',
      key: `book/${key}`,
      about: `An hour of the ${machine}`,
      evidence: `${showCents(cents)} was paid for what the machines’ pace makes ${showWhole(worked)} hours.`,
      unit: '$/machine-hour',
      old: now.book.number(key),
      seen: cents / 100 / worked,
      count: 1,
      speaks: 'seasons',
      decimals: 0,
      least: 0,
      most: 10_000,
      show: (value) => `$${showWhole(value)}/hour`,
      change: (value) => ({ to: 'book', key, value }),
    })
  })
}
