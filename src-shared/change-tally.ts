/**
 * What has changed between two seasons, counted: "2 prices, 1 field’s acres". The short word beside a plan that is
 * out of date; every change in a sentence of its own is told by the engine's `changesBetween`.
 */
import { quoteTitle } from './quote.ts'
import type { Season } from './season.ts'
import { bearsOnPlan, byTitle, columnsChanged, type Thing } from './season-difference.ts'
import { showCount } from './show.ts'

type Noun = readonly [one: string, many: string]

interface Counted {
  of: (season: Season) => readonly Thing[]
  title: (thing: Thing) => string
  noun: Noun
  /** Columns that a manager knows by a name of their own; the rest counts as a change to the thing. */
  columns?: Readonly<Record<string, Noun>>
}

const price: Noun = ['price', 'prices']
const named = (thing: Thing) => String(thing.name)
const titled = (...keys: string[]) => {
  return (thing: Thing) => JSON.stringify(keys.map((key) => thing[key] ?? null))
}

const counted: readonly Counted[] = [
  {
    of: (season) => season.quotes,
    title: (thing) => quoteTitle(thing as unknown as Season['quotes'][number]),
    noun: ['quote', 'quotes'],
    columns: {
      packPriceCents: price,
      breaks: price,
      availablePacks: ['offer’s packs to be had', 'offers’ packs to be had'],
    },
  },
  {
    of: (season) => season.fields,
    title: named,
    noun: ['field', 'fields'],
    columns: { acres: ['field’s acres', 'fields’ acres'], history: ['field’s history', 'fields’ histories'] },
  },
  { of: (season) => season.varieties, title: named, noun: ['variety', 'varieties'] },
  { of: (season) => season.dealers, title: named, noun: ['dealer', 'dealers'] },
  { of: (season) => season.carried, title: titled('variety', 'lot'), noun: ['lot on hand', 'lots on hand'] },
  { of: (season) => season.rules, title: titled('rule', 'subject'), noun: ['house rule', 'house rules'] },
  {
    of: (season) => season.assumptions.filter(bearsOnPlan),
    title: titled('key'),
    noun: ['row of the book', 'rows of the book'],
  },
  { of: (season) => season.locks, title: titled('field'), noun: ['lock', 'locks'] },
  {
    of: (season) => season.exclusions,
    title: titled('field', 'variety', 'window'),
    noun: ['variety kept off a field', 'varieties kept off a field'],
  },
  { of: (season) => season.windows, title: named, noun: ['planting window', 'planting windows'] },
  { of: (season) => season.weeks, title: titled('starts'), noun: ['week', 'weeks'] },
  { of: (season) => season.machines, title: named, noun: ['machine', 'machines'] },
  { of: (season) => season.measures, title: named, noun: ['measure', 'measures'] },
  { of: (season) => season.contracts, title: named, noun: ['contract', 'contracts'] },
  { of: (season) => season.threats, title: named, noun: ['threat', 'threats'] },
]

/** @returns '' where nothing differs that bears on a plan */
export function changeTally(before: Season, after: Season): string {
  const counts = new Map<Noun, number>()
  const add = (noun: Noun) => counts.set(noun, (counts.get(noun) ?? 0) + 1)
  for (const { of, title, noun, columns = {} } of counted) {
    const [was, is] = [byTitle(of(before), title), byTitle(of(after), title)]
    for (const key of new Set([...was.keys(), ...is.keys()])) {
      const [old, now] = [was.get(key), is.get(key)]
      if (old === undefined || now === undefined) add(noun)
      else for (const changed of nounsChanged(old, now, noun, columns)) add(changed)
    }
  }
  return [...counts].map(([[one, many], count]) => showCount(count, one, many)).join(', ')
}

/** A thing counts once under each of its nouns, however many of its columns changed. */
function nounsChanged(old: Thing, now: Thing, noun: Noun, columns: Readonly<Record<string, Noun>>): Set<Noun> {
  return new Set(columnsChanged(old, now).map((key) => columns[key] ?? noun))
}
