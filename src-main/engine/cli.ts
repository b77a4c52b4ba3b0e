/**
 * The command line, on the same code as the window. Exit codes: 0 done · 1 nothing fits or nothing was found ·
 * 2 the input or the command is wrong (the problems go to standard error, with `--json` as a list to standard output).
 */
import { existsSync, readFileSync, statSync } from 'node:fs'
import { basename } from 'node:path'
import { parseArgs } from 'node:util'
import { toJsonSchema } from '@valibot/to-json-schema'
import * as v from 'valibot'
import { deliveryFileSchema, isSpringVerb } from '../../src-shared/delivery-file.ts'
import { isSeasonVerb } from '../../src-shared/season-verbs.ts'
import { sumsOf } from '../../src-shared/order.ts'
import { ordersOfPlan } from '../../src-shared/orders-of-plan.ts'
import { readPlanFile } from '../../src-shared/plan-file.ts'
import { planProblemSchema, readPlanProblem } from '../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../src-shared/plan.ts'
import { isoDate } from '../../src-shared/primitive.ts'
import { fail, ok, problemLine, type Problem, type Result } from '../../src-shared/problem.ts'
import { readJson } from '../../src-shared/read-file.ts'
import { readSeason, seasonSchema, type Season } from '../../src-shared/season.ts'
import { solvePlan } from './plan/solve-plan.ts'
import { solveProblem } from './plan/solve-problem.ts'
import { offered } from './ordered-seed.ts'
import { orderCsv } from './export/order-table.ts'
import { ordersText, type AskedOrder } from './export/order-text.ts'
import { planText } from './export/plan-text.ts'
import { writeOutput } from './output-file.ts'
import { usage } from './cli-usage.ts'

const mostBytes = 256 * 1024 * 1024

async function main(args: string[]): Promise<number> {
  let parsed
  try {
    parsed = parseArgs({
      args,
      allowPositionals: true,
      options: {
        out: { type: 'string' },
        gap: { type: 'string', default: '0.001' },
        time: { type: 'string', default: '60' },
        plan: { type: 'string' },
        today: { type: 'string' },
        lot: { type: 'string' },
        field: { type: 'string' },
        grew: { type: 'string', multiple: true },
        season: { type: 'string' },
        confirm: { type: 'boolean', default: false },
        'dry-run': { type: 'boolean', default: false },
        answers: { type: 'string' },
        accept: { type: 'boolean', default: false },
        leave: { type: 'boolean', default: false },
        json: { type: 'boolean', default: false },
        csv: { type: 'boolean', default: false },
        ics: { type: 'boolean', default: false },
        help: { type: 'boolean', short: 'h', default: false },
      },
    })
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n\n${usage}`)
    return 2
  }
  const { values, positionals } = parsed
  const [verb, subject, ...extra] = positionals
  if (values.help || (verb === undefined && args.length === 0)) {
    process.stdout.write(usage)
    return values.help ? 0 : 2
  }
  if (verb === 'schema' && extra.length === 0) return printSchema(subject)
  if ((verb === 'plan' || verb === 'solve') && subject !== undefined && extra.length === 0) {
    return report(await work(verb, subject, values), values, subject)
  }
  if (verb === 'orders' && subject !== undefined && extra.length === 0) return printOrders(subject, values)
  if (isSpringVerb(verb) && subject !== undefined && extra.length === (verb === 'receive' ? 1 : 0)) {
    // Only here: the other commands need no database.
    const { springCommand } = await import('./cli-spring.ts')
    const done = await springCommand(verb, subject, { ...values, delivery: () => readJsonFile(extra[0] ?? '') })
    if (done.ok) process.stdout.write(done.value)
    else tellProblems(done.problems, values.json)
    return done.ok ? 0 : 2
  }
  if (isSeasonVerb(verb) && subject !== undefined && extra.length === 0) {
    const { seasonCommand } = await import('./cli-season.ts')
    const done = await seasonCommand(verb, subject, { ...values, readFile: readJsonFile })
    if (!done.ok) return refuse(done.problems, values.json)
    // Beside the season, which may be read on from the output.
    process.stderr.write(done.value.says)
    return writeOut(done.value.text, values, [subject])
  }
  if (verb === 'import' && subject !== undefined && extra.length > 0) {
    const { importCommand } = await import('./cli-import.ts')
    const done = await importCommand(subject, extra, { ...values, dryRun: values['dry-run'], readFile: readJsonFile })
    if (!done.ok) return refuse(done.problems, values.json)
    const written = writeOut(done.value.text, values, [subject, ...extra])
    return written === 0 && !done.value.isWhole ? 1 : written
  }
  if (verb === 'review' && subject !== undefined && extra.length === 0) {
    const { reviewCommand } = await import('./cli-review.ts')
    const done = await reviewCommand(subject, values)
    return done.ok ? writeOut(done.value, values, [subject]) : refuse(done.problems, values.json)
  }
  if (verb === 'calendar' && subject !== undefined && extra.length === 0) {
    const { calendarCommand } = await import('./cli-calendar.ts')
    const done = await calendarCommand(subject, values)
    return done.ok ? writeOut(done.value, values, [subject]) : refuse(done.problems, values.json)
  }
  if (
    (verb === 'backup' || verb === 'restore') &&
    subject !== undefined &&
    extra.length <= (verb === 'restore' ? 1 : 0)
  ) {
    const { fileCommand } = await import('./cli-file.ts')
    const done = await fileCommand(verb, subject, extra[0], values.json)
    return done.ok ? writeOut(done.value, values, [subject]) : refuse(done.problems, values.json)
  }
  process.stderr.write(usage)
  return 2
}

function refuse(problems: readonly Problem[], json: boolean): number {
  tellProblems(problems, json)
  return 2
}

/** To the file that was named, or to be read on. @param inputs files that the command read */
function writeOut(text: string, { out, json }: { out?: string; json: boolean }, inputs: readonly string[]): number {
  if (out === undefined) {
    process.stdout.write(text)
    return 0
  }
  const problem = writeOutput(out, text, inputs)
  return problem === null ? 0 : refuse([problem], json)
}

async function printOrders(
  path: string,
  values: { plan?: string; today?: string; gap: string; time: string; json: boolean; csv: boolean },
): Promise<number> {
  const asked = await ordersOfFiles(path, values)
  if (!asked.ok) {
    tellProblems(asked.problems, values.json)
    return asked.problems.every((problem) => problem.code === 'nothing-fits') ? 1 : 2
  }
  if (values.json) process.stdout.write(`${JSON.stringify(asked.value, null, 2)}\n`)
  else if (values.csv) process.stdout.write(orderCsv(asked.value))
  else process.stdout.write(ordersText(asked.value))
  return 0
}

/** The season's orders: of the plan in a file, or of one worked out now. */
async function ordersOfFiles(
  path: string,
  values: { plan?: string; today?: string; gap: string; time: string },
): Promise<Result<AskedOrder[]>> {
  const { plan: planPath, today } = values
  if (today !== undefined && !v.is(isoDate, today)) {
    const what = `--today must be a date such as 2027-01-20, not "${today}".`
    return fail({ code: 'bad-value', what, remedy: 'Correct the option.' })
  }
  const json = readJsonFile(path)
  if (!json.ok) return json
  const season = readSeason(json.value, basename(path))
  if (!season.ok) return season
  if (planPath !== undefined) {
    const written = readJsonFile(planPath)
    if (!written.ok) return written
    const plan = readPlanFile(written.value, basename(planPath), season.value)
    return plan.ok ? ok(askedOf(plan.value, season.value)) : plan
  }
  const gap = numberOption('gap', values.gap, 0, 0.5)
  const seconds = numberOption('time', values.time, 0.1, 86_400)
  if (!gap.ok) return gap
  if (!seconds.ok) return seconds
  const offer = offered(season.value, [], today)
  if (!offer.ok) return offer
  const solved = await solvePlan(offer.value.season, { gap: gap.value, seconds: seconds.value })
  if (!solved.ok) return solved
  const { plan, proof } = solved.value
  if (plan === null) {
    return fail({ code: 'nothing-fits', what: proof.says, remedy: 'See which rules clash: standwell plan.' })
  }
  return ok(askedOf(plan, season.value))
}

function askedOf(plan: Pick<Plan, 'purchases'>, season: Season): AskedOrder[] {
  return ordersOfPlan(plan, season).map((order) => {
    const depositShare = season.dealers.find(({ name }) => name === order.dealer)?.depositShare ?? null
    return { ...order, depositShare, sums: sumsOf(order) }
  })
}

function printSchema(subject: string | undefined): number {
  const schemas: Record<string, Parameters<typeof toJsonSchema>[0]> = {
    season: seasonSchema,
    problem: planProblemSchema,
    delivery: deliveryFileSchema,
  }
  const schema = subject !== undefined && Object.hasOwn(schemas, subject) ? schemas[subject] : undefined
  if (schema === undefined) {
    process.stderr.write(usage)
    return 2
  }
  process.stdout.write(`${JSON.stringify(toJsonSchema(schema, { errorMode: 'ignore', typeMode: 'input' }), null, 2)}\n`)
  return 0
}

interface Worked {
  solved: SolvedPlan
  /** Null where the file was a problem. */
  season: Season | null
}

async function work(
  verb: 'plan' | 'solve',
  path: string,
  values: { gap: string; time: string },
): Promise<Result<Worked>> {
  const gap = numberOption('gap', values.gap, 0, 0.5)
  const seconds = numberOption('time', values.time, 0.1, 86_400)
  if (!gap.ok) return gap
  if (!seconds.ok) return seconds
  const file = basename(path)
  const json = readJsonFile(path)
  if (!json.ok) return json
  if (verb === 'plan') {
    const season = readSeason(json.value, file)
    if (!season.ok) return season
    const solved = await solvePlan(season.value, { gap: gap.value, seconds: seconds.value })
    return solved.ok ? ok({ solved: solved.value, season: season.value }) : solved
  }
  const problem = readPlanProblem(json.value, file)
  if (!problem.ok) return problem
  const settings = { gap: gap.value, seconds: seconds.value, wholeCents: false, explain: true }
  const solved = await solveProblem(problem.value, settings)
  return solved.ok ? ok({ solved: solved.value, season: null }) : solved
}

function numberOption(name: string, text: string, low: number, high: number): Result<number> {
  const value = Number(text)
  if (text.trim() !== '' && value >= low && value <= high) return ok(value)
  return fail({
    code: 'bad-value',
    what: `--${name} must be a number from ${low} to ${high}, not "${text}".`,
    remedy: 'Correct the option.',
  })
}

function readJsonFile(path: string): Result<unknown> {
  const text = readText(path)
  return text.ok ? readJson(text.value, basename(path)) : text
}

function readText(path: string): Result<string> {
  const file = basename(path)
  const wrong = (what: string, remedy: string): Result<string> =>
    fail({ code: 'bad-file', what, where: { file }, remedy })
  if (!existsSync(path)) return wrong('The file is not there.', 'Check the path.')
  const stat = statSync(path)
  if (!stat.isFile()) return wrong('This is not a file.', 'Give the path of a file.')
  if (stat.size > mostBytes) return wrong('The file is larger than 256 MB.', 'Check that it is the right one.')
  try {
    return ok(new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(path)))
  } catch {
    if (path.toLowerCase().endsWith('.farm')) {
      const remedy = 'Write its season first: standwell archive FARM.farm --out X.season.json.'
      return wrong('This is a farm; the command reads a season file.', remedy)
    }
    return wrong('The file cannot be read as UTF-8 text.', 'Save it as UTF-8 and check that it may be read.')
  }
}

/** Prints a plan or problems; nothing is written to `--out` unless there is an answer. */
function report(result: Result<Worked>, values: { out?: string; json: boolean }, input: string): number {
  if (!result.ok) {
    const isBug = result.problems.some((problem) => problem.code === 'bug')
    tellProblems(result.problems, values.json)
    if (isBug) process.stderr.write('This is a fault of Standwell, not of your file.\n')
    return result.problems.every((problem) => problem.code === 'nothing-fits') ? 1 : 2
  }
  const { solved, season } = result.value
  const text = `${JSON.stringify(solved, null, 2)}\n`
  if (values.out !== undefined) {
    const problem = writeOutput(values.out, text, [input])
    if (problem !== null) return refuse([problem], values.json)
  }
  process.stdout.write(values.json ? text : planText(solved, season))
  return solved.plan === null ? 1 : 0
}

function tellProblems(found: readonly Problem[], json: boolean): void {
  const problems = found.map((problem) =>
    problem.code === 'unusual' ? { ...problem, remedy: 'Correct it, or add --confirm to save it as it is.' } : problem,
  )
  if (json) process.stdout.write(`${JSON.stringify({ problems }, null, 2)}\n`)
  else for (const problem of problems) process.stderr.write(`${problemLine(problem)}\n`)
}

process.exitCode = await main(process.argv.slice(2))
