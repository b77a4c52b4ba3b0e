/** What the ground and the seed teach: emergence, seed counts and germination, the pressure that fields have shown. */
import type { Context } from '../agronomy/context.ts'
import { levelsOf } from '../agronomy/levels.ts'
import { line, term } from '../agronomy/working.ts'
import { pressureLevels } from '../field.ts'
import { showCount, showPercent, showWhole } from '../show.ts'
import { lessonWorth, weightOf, type Lesson, type LessonChange } from './lesson.ts'
import { mean, offered } from './offer.ts'
import type { Reckoning } from './review.ts'
import { worstSeen } from './trouble.ts'

/**
 * Field emergence [share] by the counts of stands, in single and in twin rows.
 * @param now the season that would learn it
 */
export function emergenceLessons({ stands }: Reckoning, now: Context): Lesson[] {
  return (['single', 'twin'] as const).flatMap((rows): Lesson[] => {
    const own = stands.flatMap(({ rowPattern, germination, found, planting: { seedsPerFoot } }) =>
      rowPattern === rows && germination !== null && germination > 0 && seedsPerFoot !== null
        ? [{ found, drop: seedsPerFoot, germination }]
        : [],
    )
    if (own.length === 0) return []
    const { fallsPerSeed, referenceSeedsPerFoot } = now.emergence[rows]
    const seen = mean(
      own.map(
        ({ found, drop, germination }) => found / drop / germination + fallsPerSeed * (drop - referenceSeedsPerFoot),
      ),
    )
    const key = `emergence/field/${rows}`
    return offered(now, {
      kind: 'emergence',
      key: `book/${key}`,
      about: `Field emergence in ${rows} rows`,
      evidence: `${showCount(own.length, 'planting')} counted: ${showPercent(seen)} of the seeds that germinate made a plant.`,
      unit: 'share',
      old: now.book.number(key),
      seen,
      count: own.length,
      speaks: 'fields',
      decimals: 2,
      least: 0.05,
      most: 1,
      show: (value) => showPercent(value),
      change: (value) => ({ to: 'book', key, value }),
    })
  })
}

/** Seeds a pound and germination [share] of varieties whose lots were counted or tested. */
export function seedLessons({ record }: Reckoning, now: Context): Lesson[] {
  const here = record.lots.filter(({ state }) => state !== 'refused')
  return now.season.varieties.flatMap((variety): Lesson[] => {
    const own = here.filter((lot) => lot.variety === variety.name)
    const counted = own.filter(({ countFrom }) => countFrom !== 'the variety').map(({ seedsCounted }) => seedsCounted)
    const tested = own.filter(({ germinationFrom }) => germinationFrom !== 'the variety').map((lot) => lot.germination)
    const base = { kind: 'seed' as const, speaks: 'fields' as const }
    const to =
      (path: string) =>
      (value: number): LessonChange => ({
        to: 'sheet',
        sheet: 'variety',
        name: variety.name,
        path,
        value,
      })
    return [
      ...(counted.length === 0
        ? []
        : offered(now, {
            ...base,
            key: `variety/${variety.name}/seedsPerPound`,
            about: `Seed count of ${variety.name}`,
            evidence: `${showCount(counted.length, 'lot')} had ${showWhole(mean(counted))} seeds a pound on average.`,
            unit: 'seeds/lb',
            old: variety.seedsPerPound,
            seen: mean(counted),
            count: counted.length,
            decimals: 0,
            least: 200,
            most: 2000,
            show: (value) => `${showWhole(value)} seeds/lb`,
            change: to('seedsPerPound'),
          })),
      ...(tested.length === 0
        ? []
        : offered(now, {
            ...base,
            key: `variety/${variety.name}/germination`,
            about: `Germination of ${variety.name}`,
            evidence: `${showCount(tested.length, 'lot')} germinated ${showPercent(mean(tested))} on average, by tag or test.`,
            unit: 'share',
            old: variety.germination,
            seen: mean(tested),
            count: tested.length,
            decimals: 2,
            least: 0.3,
            most: 1,
            show: (value) => showPercent(value),
            change: to('germination'),
          })),
    ]
  })
}

/** A rating from which on a variety tells of what is in the ground: a better one hides it. */
const tellingRating = 6

/**
 * Worse than assumed, or better without any practice against it: with one nobody knows what was there. What lives in the soil
 * is never called less because a variety that stands it grew there.
 */
export function pressureLessons({ record, blocks }: Reckoning, now: Context): Lesson[] {
  const weight = weightOf(1, lessonWorth(now.book).seasons)
  return now.season.fields.flatMap((field) => {
    const levels = levelsOf(now, field)
    return now.season.threats.flatMap(({ name: threat, kind }, t): Lesson[] => {
      const worst = worstSeen(record.seen, field.name, threat)
      if (worst === null) return []
      const [old, seen] = [pressureLevels.indexOf(levels[t] ?? 'none'), pressureLevels.indexOf(worst.level)]
      const used = blocks.filter((block) => block.field === field.name).flatMap(({ programme }) => programme)
      const helped = now.season.measures.some(
        ({ name, efficacy }) => used.includes(name) && (efficacy[threat] ?? 0) > 0,
      )
      const isSoilBorne = kind === 'soil' || kind === 'nematode'
      const stoodIt = blocks.some(
        ({ field: name, at }) => name === field.name && (at.variety.ratings[threat] ?? 9) < tellingRating,
      )
      if (seen < old && (helped || (isSoilBorne && stoodIt))) return []
      const steps = Math.floor(Math.abs(seen - old) * weight + 0.5)
      if (steps === 0) return []
      const value = pressureLevels[old + Math.sign(seen - old) * steps] ?? worst.level
      const word = (level: number) => pressureLevels[level] ?? 'none'
      return [
        {
          key: `field/${field.name}/pressure/${threat}`,
          kind: 'pressure',
          about: `${capital(threat)} on ${field.name}`,
          evidence:
            `Seen ${worst.level}${worst.loss === undefined ? '' : `, which took ${showPercent(worst.loss)} of the crop`}` +
            `${helped ? ', in spite of the measures against it' : ''}.`,
          old: word(old),
          seen: worst.level,
          proposed: value,
          // Levels move whole: what one season weighs in the end is the part of the way that is gone.
          weight: steps / Math.abs(seen - old),
          change: { to: 'sheet', sheet: 'field', name: field.name, path: `pressure/${threat}`, value },
          lines: [
            line({
              id: 'steps',
              label: 'Levels that it moves, before rounding half a level up',
              value: weight * Math.abs(seen - old),
              unit: 'level',
              rule: 'product',
              terms: [
                term('levels between', Math.abs(seen - old), 'level'),
                term('weight of one season', weight, 'share'),
              ],
            }),
          ],
        },
      ]
    })
  })
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)
