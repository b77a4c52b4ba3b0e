/** The commands on whole seasons: the next season from a season file or a farm file, and a season as one file. Nothing is changed. */
import { basename } from 'node:path'
import * as v from 'valibot'
import type { SeasonVerb } from '../../src-shared/season-verbs.ts'
import { fail, ok, ProblemError, valueOf, type Problem, type Result } from '../../src-shared/problem.ts'
import { problemsFrom } from '../../src-shared/read-file.ts'
import { carriedOf, cropsOf, cropText, lastYear, noNext, peanut, rollSeason } from '../../src-shared/roll.ts'
import { readSeason, type Season } from '../../src-shared/season.ts'
import { showAcres, showCount } from '../../src-shared/show.ts'
import type { Carried } from '../../src-shared/variety.ts'
import { farmEnding } from './backup-path.ts'
import { asJson, goTo, onFarm, type Must } from './cli-farm.ts'

export interface SeasonOptions {
  /** Path of a plan written before, for `roll` of a season file. */
  plan?: string | undefined
  /** As FIELD=CROP. */
  grew?: string[] | undefined
  season?: string | undefined
  readFile: (path: string) => Result<unknown>
}

/** A season to print or to write, and what to say beside it; empty where there is nothing to say. */
export interface SeasonDone {
  text: string
  says: string
}

/** What is printed or written, or what is wrong. */
export async function seasonCommand(
  verb: SeasonVerb,
  path: string,
  options: SeasonOptions,
): Promise<Result<SeasonDone>> {
  if (verb === 'archive')
    return onFarm(path, async (must) => ({ text: asJson(await archived(must, options)), says: '' }))
  const rolled = path.endsWith(farmEnding)
    ? await onFarm(path, (must) => rolledFarm(must, options))
    : rolledFile(path, options)
  return rolled.ok ? ok({ text: asJson(rolled.value), says: restingIn(rolled.value) }) : rolled
}

/** What was in peanut rests in the next season: only what is cleared is planned. */
function restingIn({ season, fields }: Season): string {
  const resting = fields.filter(({ rests }) => rests)
  if (resting.length === 0) return ''
  const acres = (of: readonly Season['fields'][number][]) => showAcres(of.reduce((sum, field) => sum + field.acres, 0))
  const open = fields.filter(({ rests }) => !rests)
  return (
    `${season}: ${showCount(resting.length, 'field rests', 'fields rest')}, ${acres(resting)} acres: ` +
    `${resting.map(({ name }) => name).join(', ')}. ${showCount(open.length, 'field is', 'fields are')} open, ${acres(open)} acres. ` +
    'Clear Rests on a field to plant it in peanut.\n'
  )
}

async function archived(must: Must, options: SeasonOptions): Promise<unknown> {
  if (options.plan !== undefined) throw new ProblemError([planOfFile])
  await goTo(must, options.season)
  const { base64 } = await must('season.archive', {})
  return JSON.parse(Buffer.from(base64, 'base64').toString('utf8')) as unknown
}

async function rolledFarm(must: Must, options: SeasonOptions): Promise<Season> {
  const season = valueOf(readSeason(await archived(must, options), 'the farm'))
  const { fields, left } = await must('season.look', {})
  const said = saidOf(options, new Set(fields.map(({ field }) => field)))
  return nextSeason(
    season,
    cropsOf(fields, (field) => said.get(field.field)),
    carriedOf(left),
  )
}

function rolledFile(path: string, options: SeasonOptions): Result<Season> {
  try {
    return ok(nextOfFile(path, options))
  } catch (error) {
    if (error instanceof ProblemError) return fail(...error.problems)
    throw error
  }
}

function nextSeason(season: Season, crops: ReadonlyMap<string, string>, carried: readonly Carried[]): Season {
  if (season.season >= lastYear) throw new ProblemError([noNext])
  return rollSeason(season, crops, carried)
}

/** A season file knows nothing of what was planted or is left: a plan may say the one, nobody the other. */
function nextOfFile(path: string, options: SeasonOptions): Season {
  const season = valueOf(readSeason(valueOf(options.readFile(path)), basename(path)))
  const names = new Set(season.fields.map(({ name }) => name))
  const planted = options.plan === undefined ? [] : plantedIn(options.plan, options, names)
  return nextSeason(
    season,
    new Map([...planted.map((field) => [field, peanut] as const), ...saidOf(options, names)]),
    [],
  )
}

const planFile = v.object({ plan: v.object({ blocks: v.array(v.object({ field: v.string() })) }, 'must be a plan') })

function plantedIn(path: string, { readFile }: SeasonOptions, names: ReadonlySet<string>): string[] {
  const raw = valueOf(readFile(path))
  const parsed = v.safeParse(planFile, raw)
  if (!parsed.success) throw new ProblemError(problemsFrom(parsed.issues, raw, basename(path)))
  const fields = [...new Set(parsed.output.plan.blocks.map(({ field }) => field))]
  const unknown = fields.filter((field) => !names.has(field))
  if (unknown.length > 0) throw new ProblemError(unknown.map((field) => noField(field, basename(path))))
  return fields
}

function saidOf({ grew = [] }: SeasonOptions, names: ReadonlySet<string>): Map<string, string> {
  const said = new Map<string, string>()
  for (const text of grew) {
    const at = text.indexOf('=')
    const [field, crop] = [text.slice(0, at).trim(), text.slice(at + 1).trim()]
    if (at < 0 || !v.is(cropText, crop)) {
      const what = `--grew must be a field and a crop, as "Hill=cotton", not "${text}".`
      throw new ProblemError([{ code: 'bad-value', what, remedy: 'Correct the option.' }])
    }
    if (!names.has(field)) throw new ProblemError([noField(field)])
    said.set(field, crop)
  }
  return said
}

function noField(name: string, file?: string): Problem {
  return {
    code: 'unknown-name',
    what: `The season has no field ${name}.`,
    where: { name, ...(file === undefined ? {} : { file }) },
    remedy: 'Correct the name; capitals count.',
  }
}

const planOfFile: Problem = {
  code: 'bad-value',
  what: 'A farm file knows what was planted: --plan is for a season file.',
  remedy: 'Leave --plan out, and say what else grew with --grew.',
}
