/** Which scale the ratings or the levels of a table are on: said beside it, told by what is met, or asked for once. Pure. */
import type { Context } from './context.ts'
import type { Cell } from './grid.ts'
import { figureOf } from './read-cell.ts'
import { yesOrNo } from './read-word.ts'
import { isOurs, mappingText, scaleIn, scaleText, toLevel, toRating, type Scale } from './scales.ts'

/** Scales that are used, by the highest figure that is met; the likeliest first. Common practice, no source. */
const used: Record<
  'rating' | 'level',
  readonly { upTo: number; ranges: readonly (readonly [low: number, high: number])[] }[]
> = {
  rating: [
    {
      upTo: 5,
      ranges: [
        [1, 5],
        [1, 9],
        [1, 10],
      ],
    },
    {
      upTo: 9,
      ranges: [
        [1, 9],
        [1, 10],
      ],
    },
    {
      upTo: 10,
      ranges: [
        [1, 10],
        [0, 10],
      ],
    },
  ],
  level: [
    {
      upTo: 3,
      ranges: [
        [0, 3],
        [1, 3],
        [0, 4],
        [0, 5],
        [1, 5],
      ],
    },
    {
      upTo: 4,
      ranges: [
        [0, 4],
        [1, 5],
        [0, 5],
        [0, 10],
      ],
    },
    {
      upTo: 5,
      ranges: [
        [0, 5],
        [1, 5],
        [0, 10],
      ],
    },
    {
      upTo: 10,
      ranges: [
        [0, 10],
        [1, 10],
        [1, 9],
      ],
    },
  ],
}

const rangesUpTo = (reads: 'rating' | 'level', most: number) =>
  used[reads].find(({ upTo }) => most <= upTo)?.ranges ?? []

/** One scale for all ratings of a table, and one for all its levels. */
export function settleScale(context: Context, reads: 'rating' | 'level'): Scale | null {
  const { columns, own, decimals, given, found, columnSays, ask } = context
  const { answers } = given
  const rated = columns.filter(({ column }) => column.reads === reads)
  const figures = rated.flatMap(({ at }) =>
    own(at).flatMap((cell) => (yesOrNoOnly(cell) ? [] : (figureOf(cell, { decimals })?.value ?? []))),
  )
  const numbers = reads === 'level' ? figures.filter((value) => value !== 0) : figures
  if (numbers.length === 0)
    return reads === 'level' && figures.length > 0 ? { low: 0, high: 4, highIsGood: false } : null
  const key = `scale/${reads}`
  const answer = /^(\d+)-(\d+)-(good|bad)$/.exec(answers[key] ?? '')
  const [good, bad] = reads === 'rating' ? ['resistant', 'susceptible'] : ['none', 'severe']
  const tell = (scale: Scale) => {
    if (reads === 'rating' && isOurs(scale)) return scale
    const says = `${scaleText(scale, good, bad)}: ${reads === 'rating' ? mappingText(scale, toRating) : mappingText(scale, toLevel)}`
    for (const { at } of rated) if (own(at).some((cell) => figureOf(cell, { decimals }))) columnSays[at] = says
    return scale
  }
  if (answer) return tell({ low: Number(answer[1]), high: Number(answer[2]), highIsGood: answer[3] === 'good' })
  // Our own headings say it: “1 hardy, 9 prone”, and `rating spotted wilt` of the demo farm’s files.
  const isOwn =
    reads === 'rating' &&
    rated.every(
      ({ heading, column }) =>
        /hardy|prone/.test(heading) ||
        (column.paths === undefined && heading.toLowerCase() === `rating ${column.id.replace('ratings/', '')}`),
    )
  if (isOwn) return { low: 1, high: 9, highIsGood: false }
  const texts = [
    ...rated.map(({ heading }) => heading),
    ...found.headings,
    ...found.groups,
    ...found.words,
    given.named,
  ]
  const said = texts.map(scaleIn).reduce((all, each) => ({ ...each, ...all }), {})
  for (const { heading } of rated)
    if (said.highIsGood === undefined && /suscept/i.test(heading)) said.highIsGood = false
  for (const { heading } of rated)
    if (said.highIsGood === undefined && /resist|toleran/i.test(heading)) said.highIsGood = true
  // More of a disease is worse.
  for (const { heading } of rated)
    if (reads === 'level' && /severity|pressure|damage|incidence|how bad/i.test(heading)) said.highIsGood ??= false
  const most = Math.max(...numbers)
  const least = Math.min(...figures)
  if (reads === 'level') said.highIsGood ??= /resist/i.test(texts.join(' ')) ? undefined : said.highIsGood
  const ranges =
    said.high !== undefined && said.high >= most
      ? [[said.low ?? Math.min(1, least), said.high] as const]
      : rangesUpTo(reads, most)
  const options = ranges
    .filter(([low]) => low <= least)
    .flatMap(([low, high]) =>
      (said.highIsGood === undefined ? [false, true] : [said.highIsGood]).map((highIsGood) => ({
        low,
        high,
        highIsGood,
      })),
    )
  if (options.length === 1) return tell(options[0] as Scale)
  // With the direction said and 6 to 9 met, ten is the only doubt.
  ask(
    {
      key,
      scope: 'table',
      header: rated.map(({ heading }) => heading).join(', '),
      says: reads === 'rating' ? 'Which scale are the ratings on?' : 'Which scale is the pressure on?',
      answers: options.map((scale) => ({
        value: `${scale.low}-${scale.high}-${scale.highIsGood ? 'good' : 'bad'}`,
        says: scaleText(scale, good, bad),
      })),
      suggestion: options[0] ? `${options[0].low}-${options[0].high}-${options[0].highIsGood ? 'good' : 'bad'}` : null,
    },
    numbers.length,
  )
  return null
}

function yesOrNoOnly(cell: Cell): boolean {
  return typeof cell === 'string' && !/\d/.test(cell) && yesOrNo(cell) !== null
}
