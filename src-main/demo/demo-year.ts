/**
 * What happened on the demo farm in a year that is over: its plan, what dealers answered, seed that came, plantings, stands,
 * trouble, loads and money, all invented, in files that people can read. Moved by whole years like the season itself.
 */
import * as v from 'valibot'
import { costSchema, type Cost } from '../../src-shared/cost.ts'
import { deliveryFileSchema } from '../../src-shared/delivery-file.ts'
import type { Load } from '../../src-shared/load.ts'
import { markSchema } from '../../src-shared/order.ts'
import type { SolvedPlan } from '../../src-shared/plan.ts'
import { acres, isoDate, nameText, note } from '../../src-shared/primitive.ts'
import { ProblemError, valueOf } from '../../src-shared/problem.ts'
import { readJson } from '../../src-shared/read-file.ts'
import type { Season } from '../../src-shared/season.ts'
import { seenSchema, type Seen } from '../../src-shared/seen.ts'
import { readLoads } from '../engine/import/load-columns.ts'
import { readTable } from '../engine/import/read-table.ts'
import { demoSeason } from './demo-season.ts'
import { seasonOfYear, yearsOn } from './season-on.ts'
import answers from './year/answers.json?raw'
import costs from './year/costs.json?raw'
import deliveries from './year/deliveries.json?raw'
import loads from './year/loads.csv?raw'
import plan from './year/plan.json?raw'
import plantings from './year/plantings.json?raw'
import seedLeft from './year/seed-left.json?raw'
import seen from './year/seen.json?raw'
import tests from './year/tests.json?raw'

const answerSchema = v.object({ dealer: nameText, quote: v.string(), mark: markSchema })
const plantingSchema = v.strictObject({
  field: nameText,
  block: v.optional(nameText),
  plantedOn: isoDate,
  acres,
  seedsPerFoot: v.number(),
  depthIn: v.number(),
  soilTempF: v.number(),
  operator: nameText,
  lots: v.array(v.strictObject({ lot: nameText, packs: v.optional(v.number()), pounds: v.number() })),
  measures: v.array(nameText),
  stands: v.array(v.strictObject({ countedOn: isoDate, feet: v.number(), plants: v.array(v.number()) })),
  note: v.optional(note),
})
const testSchema = v.strictObject({
  lot: nameText,
  testedOn: isoDate,
  seeds: v.number(),
  sprouted: v.array(v.number()),
})
const leftSchema = v.strictObject({ lot: nameText, returnedPounds: v.number(), leftPounds: v.number() })

export interface DemoYear {
  season: Season
  solved: SolvedPlan
  answers: v.InferOutput<typeof answerSchema>[]
  deliveries: v.InferOutput<typeof deliveryFileSchema>[]
  tests: v.InferOutput<typeof testSchema>[]
  plantings: v.InferOutput<typeof plantingSchema>[]
  seedLeft: v.InferOutput<typeof leftSchema>[]
  seen: Seen[]
  loads: Load[]
  costs: Cost[]
  /** ISO day after which nothing is dated. */
  endsOn: string
}

/** Throws if the files that ship with the program do not read: that is a bug, and a test keeps it away. */
export function demoYear(year: number): DemoYear {
  const written = demoSeason()
  const by = year - written.season
  const read = <Schema extends v.GenericSchema>(text: string, schema: Schema): v.InferOutput<Schema>[] =>
    v.parse(v.array(schema), moved(json(text), by))
  const rows = readLoads(valueOf(readTable(loads, 'loads.csv')))
  if (rows.problems.length > 0) throw new ProblemError(rows.problems)
  return {
    season: planted(seasonOfYear(written, year)),
    solved: json(plan) as SolvedPlan,
    answers: read(answers, answerSchema),
    deliveries: read(deliveries, deliveryFileSchema),
    tests: read(tests, testSchema),
    plantings: read(plantings, plantingSchema),
    seedLeft: read(seedLeft, leftSchema),
    seen: read(seen, seenSchema),
    loads: moved(
      rows.records.map(({ value }) => value),
      by,
    ),
    costs: read(costs, costSchema),
    endsOn: `${year}-11-01`,
  }
}

/** Without the ground that rests: nothing happened there in that year. */
function planted(season: Season): Season {
  return { ...season, fields: season.fields.filter(({ rests }) => !rests) }
}

function json(text: string): unknown {
  return valueOf(readJson(text, 'year'))
}

/** Every date in it so many years on: whole days, and the months that tags bear. */
function moved<Value>(value: Value, years: number): Value {
  return JSON.parse(JSON.stringify(value), (_, part: unknown) => {
    if (typeof part !== 'string') return part
    if (/^\d{4}-\d{2}-\d{2}$/.test(part)) return yearsOn(part, years)
    return /^\d{4}-\d{2}$/.test(part) ? yearsOn(`${part}-01`, years).slice(0, 7) : part
  }) as Value
}
