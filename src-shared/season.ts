/**
 * The season as one plain value: what a plan is made from. The database is gathered into it, the interchange
 * file `*.season.json` is it, and the solver sees nothing else. Money is in whole cents; names are the keys.
 */
import * as v from 'valibot'
import { assumptionSchema } from './assumption.ts'
import { contractSchema } from './contract.ts'
import { farmSchema } from './farm.ts'
import { fieldSchema } from './field.ts'
import { currentRules } from './former-rules.ts'
import { withWeeks } from './former-windows.ts'
import { lockSchema } from './lock.ts'
import { nameText, wholeBetween } from './primitive.ts'
import { fail, ok, type Problem, type Result } from './problem.ts'
import { problemsFrom } from './read-file.ts'
import { dealerSchema, quoteSchema, quoteTitle } from './quote.ts'
import { ruleKinds, ruleSchema } from './rule.ts'
import { measureSchema, threatSchema } from './threat.ts'
import { carriedSchema, varietySchema } from './variety.ts'
import { weekSchema } from './week.ts'
import { machineSchema, windowSchema } from './window.ts'

export const seasonVersion = 1

/** Never this: a field, a variety, a window, or their pair. At least one is named. */
const exclusionSchema = v.strictObject({
  field: v.optional(nameText),
  variety: v.optional(nameText),
  window: v.optional(nameText),
})

export const seasonSchema = v.strictObject({
  format: v.literal('standwell-season', 'must be "standwell-season"'),
  version: v.literal(seasonVersion),
  farm: farmSchema,
  /** Crop year: the year of harvest. */
  season: wholeBetween(2000, 2200),
  windows: v.array(windowSchema),
  /** Only weeks of which the farm says something: the assumptions have the days of the others. */
  weeks: v.optional(v.array(weekSchema), []),
  machines: v.optional(v.array(machineSchema), []),
  threats: v.array(threatSchema),
  measures: v.optional(v.array(measureSchema), []),
  fields: v.array(fieldSchema),
  varieties: v.array(varietySchema),
  dealers: v.array(dealerSchema),
  quotes: v.array(quoteSchema),
  carried: v.optional(v.array(carriedSchema), []),
  contracts: v.optional(v.array(contractSchema), []),
  rules: v.optional(v.array(ruleSchema), []),
  /** Rows that replace the regional starter set. */
  assumptions: v.optional(v.array(assumptionSchema), []),
  locks: v.optional(v.array(lockSchema), []),
  exclusions: v.optional(v.array(exclusionSchema), []),
  /** A plan written out with the season; ignored on reading. */
  plan: v.optional(v.unknown()),
  /** What came of the season, written out with it: orders to loads, see `season-record.ts`; ignored on reading. */
  happened: v.optional(v.unknown()),
})

export type Season = v.InferOutput<typeof seasonSchema>
export type Exclusion = v.InferOutput<typeof exclusionSchema>

/**
 * Reads a parsed season file. Every problem is reported, not only the first; nothing is repaired.
 * @param file name shown in the problems
 */
export function readSeason(raw: unknown, file: string): Result<Season> {
  const version = (raw as { version?: unknown } | null)?.version
  if (typeof version === 'number' && version > seasonVersion) {
    return fail({
      code: 'future-version',
      what: `The file is of version ${version}; this Standwell reads up to version ${seasonVersion}.`,
      where: { file, path: 'version' },
      remedy: 'Open it with a newer Standwell, or ask for an older export.',
    })
  }
  const parsed = v.safeParse(seasonSchema, ofNow(raw))
  if (!parsed.success) return fail(...problemsFrom(parsed.issues, raw, file))
  const problems = checkNames(parsed.output, file)
  return problems.length > 0 ? fail(...problems) : ok(parsed.output)
}

/** What earlier versions wrote otherwise, as it is written now. */
function ofNow(raw: unknown): unknown {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) return raw
  const season = withWeeks(raw as Record<string, unknown>)
  return 'rules' in season ? { ...season, rules: currentRules(season.rules) } : season
}

/** Cross references and repeated names. Comparison is exact: "Creek" and "creek" are told apart but refused. */
export function checkNames(season: Season, file?: string): Problem[] {
  const problems: Problem[] = []
  const known = {
    field: nameSet(season.fields, 'fields'),
    variety: nameSet(season.varieties, 'varieties'),
    dealer: nameSet(season.dealers, 'dealers'),
    threat: nameSet(season.threats, 'threats'),
    window: nameSet(season.windows, 'windows'),
    measure: nameSet(season.measures, 'measures'),
    contract: nameSet(season.contracts, 'contracts'),
  }

  function nameSet(things: readonly { name: string }[], list: string): Set<string> {
    const seen = new Map<string, number>()
    things.forEach((thing, index) => {
      const first = seen.get(thing.name.toLowerCase())
      if (first !== undefined) {
        problems.push({
          code: 'repeated-name',
          what: `"${thing.name}" stands twice in ${list}.`,
          where: { file, path: `${list}[${index}].name`, name: thing.name },
          remedy: `Rename one of them, or remove it; the first is ${list}[${first}].`,
        })
      } else seen.set(thing.name.toLowerCase(), index)
    })
    return new Set(things.map((thing) => thing.name))
  }

  function mustKnow(kind: keyof typeof known, name: string | undefined, path: string): void {
    if (name === undefined || known[kind].has(name)) return
    problems.push({
      code: 'unknown-name',
      what: `There is no ${kind} named "${name}".`,
      where: { file, path, name },
      remedy: `Add the ${kind}, or correct the name${nearest(name, known[kind])}.`,
    })
  }

  season.fields.forEach((field, f) => {
    field.windows.forEach((name, w) => mustKnow('window', name, `fields[${f}].windows[${w}]`))
    for (const name of Object.keys(field.pressure)) mustKnow('threat', name, `fields[${f}].pressure.${name}`)
  })
  season.varieties.forEach((variety, i) => {
    for (const name of Object.keys(variety.ratings)) mustKnow('threat', name, `varieties[${i}].ratings.${name}`)
  })
  const titles = new Map<string, number>()
  season.quotes.forEach((quote, q) => {
    mustKnow('dealer', quote.dealer, `quotes[${q}].dealer`)
    mustKnow('variety', quote.variety, `quotes[${q}].variety`)
    const title = quoteTitle(quote)
    const first = titles.get(title)
    if (first !== undefined) {
      problems.push({
        code: 'repeated-name',
        what: `The quote ${title} stands twice.`,
        where: { file, path: `quotes[${q}]`, name: title },
        remedy: `Give one of the two a name, as "early order"; the first is quotes[${first}].`,
      })
    } else titles.set(title, q)
  })
  season.carried.forEach((carried, c) => mustKnow('variety', carried.variety, `carried[${c}].variety`))
  season.measures.forEach((measure, m) => {
    for (const name of Object.keys(measure.efficacy)) mustKnow('threat', name, `measures[${m}].efficacy.${name}`)
  })
  season.locks.forEach((lock, l) => {
    mustKnow('field', lock.field, `locks[${l}].field`)
    mustKnow('variety', lock.variety, `locks[${l}].variety`)
    mustKnow('window', lock.window, `locks[${l}].window`)
  })
  season.exclusions.forEach((exclusion, e) => {
    mustKnow('field', exclusion.field, `exclusions[${e}].field`)
    mustKnow('variety', exclusion.variety, `exclusions[${e}].variety`)
    mustKnow('window', exclusion.window, `exclusions[${e}].window`)
  })
  season.rules.forEach((rule, r) => {
    const { subject } = ruleKinds[rule.rule]
    if (subject === 'threat') mustKnow('threat', rule.subject, `rules[${r}].subject`)
    if (subject === 'variety?') mustKnow('variety', rule.subject, `rules[${r}].subject`)
    if (rule.amount === undefined && ruleKinds[rule.rule].unit !== null) {
      problems.push({
        code: 'missing',
        what: `The rule "${rule.rule}" has no amount.`,
        where: { file, path: `rules[${r}].amount`, rule: rule.rule },
        remedy: `Give it an amount in ${ruleKinds[rule.rule].unit}, or remove the rule.`,
      })
    }
  })
  return problems
}

/** A hint when a name is the known one but for capitals or blanks. */
function nearest(name: string, names: ReadonlySet<string>): string {
  const plain = (text: string) => text.toLowerCase().replace(/[^a-z0-9]/g, '')
  const match = [...names].find((candidate) => plain(candidate) === plain(name))
  return match === undefined ? '' : `: perhaps "${match}" was meant`
}
