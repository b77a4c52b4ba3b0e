/** What the crop teaches: yield and grade of varieties against the rest of the farm, and the price of peanuts. */
import type { Context } from '../agronomy/context.ts'
import { contractsFor } from '../agronomy/price.ts'
import { line, term } from '../agronomy/working.ts'
import { showCents, showCount, showNumber, showPercent, showWhole } from '../show.ts'
import { expectedYields, gradesPaid, type FieldRatio } from './field-ratios.ts'
import type { Lesson } from './lesson.ts'
import { mean, offered } from './offer.ts'
import type { Reckoning } from './review.ts'

/** Yield and grade against the rest of the farm in the same year, so that a good or bad year is nobody's merit. */
export function varietyLessons(reckoning: Reckoning, now: Context): Lesson[] {
  return [
    ...againstFarm(now, expectedYields(reckoning), {
      kind: 'yield',
      path: 'yieldIndex',
      about: 'Yield',
      did: 'made',
      of: 'of what was expected of its ground',
      limits: [0.3, 2],
    }),
    ...againstFarm(now, gradesPaid(reckoning), {
      kind: 'grade',
      path: 'gradeIndex',
      about: 'Grade',
      did: 'brought',
      of: 'of the price that its grade was taken to bring',
      limits: [0.5, 1.5],
    }),
  ]
}

interface Index {
  kind: 'yield' | 'grade'
  path: 'yieldIndex' | 'gradeIndex'
  about: string
  did: string
  of: string
  limits: [number, number]
}

function againstFarm(now: Context, ratios: readonly FieldRatio[], index: Index): Lesson[] {
  const groups = Map.groupBy(ratios, ({ variety }) => variety)
  if (groups.size < 2) return []
  const farm = mean(ratios.map(({ ratio }) => ratio))
  if (farm <= 0) return []
  return now.season.varieties.flatMap((variety): Lesson[] => {
    const own = groups.get(variety.name)
    if (own === undefined) return []
    const ratio = mean(own.map((each) => each.ratio))
    const held = mean(own.map((each) => each.index))
    const seen = (held * ratio) / farm
    return offered(now, {
      kind: index.kind,
      key: `variety/${variety.name}/${index.path}`,
      about: `${index.about} of ${variety.name}`,
      evidence:
        `On ${showCount(own.length, 'field')} it ${index.did} ${showPercent(ratio)} ${index.of}; ` +
        `all fields of the farm together ${showPercent(farm)}.`,
      unit: 'usual = 1',
      old: variety[index.path],
      seen,
      count: own.length,
      speaks: 'fields',
      decimals: 2,
      least: index.limits[0],
      most: index.limits[1],
      show: (value) => showNumber(value, 2),
      change: (value) => ({ to: 'sheet', sheet: 'variety', name: variety.name, path: index.path, value }),
      before: [
        line({
          id: 'seen',
          label: 'What was seen, against the farm in the same year',
          value: seen,
          unit: 'usual = 1',
          rule: 'over the last',
          terms: [
            term('value it was planned with', held, 'usual = 1'),
            term('did, against what was expected', ratio, 'share'),
            term('all fields did', farm, 'share'),
          ],
        }),
      ],
    })
  })
}

/** The price of peanuts [$/ton] that the loads with a price brought, less what the varieties' grade made of it. */
export function priceLessons({ record, crops, context }: Reckoning, now: Context): Lesson[] {
  const { contracts, varieties } = context.season
  // What was sold under a contract says nothing of the price without one.
  const isContracted = (name: string | null) => {
    const variety = varieties.find((each) => each.name === name)
    return variety !== undefined && contractsFor(contracts, variety).length > 0
  }
  const posts = crops.flatMap((crop) => crop.posts.filter((post) => !isContracted(post.variety)))
  const tons = posts.reduce((sum, post) => sum + post.tons - post.unpricedTons, 0)
  if (tons <= 0) return []
  const cents = posts.reduce((sum, post) => sum + post.cents, 0)
  const gradeOf = (name: string | null) => context.season.varieties.find((each) => each.name === name)?.gradeIndex ?? 1
  const graded = posts.reduce((sum, post) => sum + (post.tons - post.unpricedTons) * gradeOf(post.variety), 0)
  const seen = cents / 100 / graded
  return offered(now, {
    kind: 'price',
    key: 'book/price/peanuts',
    about: 'Price of peanuts',
    evidence:
      `${showWhole(tons)} tons of ${showCount(record.loads.length, 'load')} brought ${showCents(cents / tons)} a ton; ` +
      `at the usual grade that is ${showCents(seen * 100)}.`,
    unit: '$/ton',
    old: now.book.number('price/peanuts'),
    seen,
    count: 1,
    speaks: 'seasons',
    decimals: 0,
    least: 0,
    most: 1_000_000,
    show: (value) => `$${showWhole(value)}/ton`,
    change: (value) => ({ to: 'book', key: 'price/peanuts', value }),
  })
}
