/** The commands of fall: the next season from a season file or a farm file, and a season as one file. Nothing is changed. */
import { basename, resolve } from 'node:path'
import * as v from 'valibot'
import type { FallVerb } from '../../src-shared/fall-verbs.ts'
import { fail, ok, ProblemError, type Problem, type Result } from '../../src-shared/problem.ts'
import { problemsFrom } from '../../src-shared/read-file.ts'
import { cropText, lastYear, peanut, rollSeason } from '../../src-shared/roll.ts'
import { readSeason } from '../../src-shared/season.ts'
import { archiveOf } from './archiving.ts'
import { farmEnding, openFarm, type OpenFarm } from './farm-file.ts'
import { nextOf, rollLook } from './rolling.ts'
import { listSeasons } from './seasons.ts'

export interface FallOptions {
  /** Path of a plan written before, for `roll` of a season file. */
  plan?: string | undefined
  /** As FIELD=CROP. */
  grew?: string[] | undefined
  season?: string | undefined
  readFile: (path: string) => Result<unknown>
}

/** What is printed or written, or what is wrong. */
export async function fallCommand(verb: FallVerb, path: string, options: FallOptions): Promise<Result<string>> {
  try {
    const value =
      verb === 'archive'
        ? await withFarm(path, options.season, archiveOf)
        : path.endsWith(farmEnding)
          ? await withFarm(path, options.season, (farm) => rolledFarm(farm, options))
          : rolledFile(path, options)
    return ok(`${JSON.stringify(value, null, 2)}\n`)
  } catch (error) {
    if (error instanceof ProblemError) return fail(...error.problems)
    throw error
  }
}

function must<Value>(result: Result<Value>): Value {
  if (result.ok) return result.value
  throw new ProblemError(result.problems)
}

/** The farm is closed again whatever happens. @param year of the season that is wanted; absent: the open one */
async function withFarm<T>(path: string, year: string | undefined, work: (farm: OpenFarm) => Promise<T>): Promise<T> {
  const farm = must(openFarm(resolve(path)))
  try {
    if (year === undefined) return await work(farm)
    const seasons = await listSeasons(farm.db)
    const season = seasons.find((each) => String(each.year) === year)
    if (season === undefined) {
      const remedy = `It has ${seasons.map((each) => each.year).join(', ')}.`
      throw new ProblemError([{ code: 'unknown-name', what: `The farm has no season ${year}.`, remedy }])
    }
    return await work({ ...farm, seasonId: season.id })
  } finally {
    farm.close()
  }
}

async function rolledFarm(farm: OpenFarm, options: FallOptions) {
  if (options.plan !== undefined) throw new ProblemError([planOfFile])
  const { fields } = await rollLook(farm)
  const said = saidOf(options, new Set(fields.map(({ field }) => field)))
  const byId = new Map(fields.flatMap(({ fieldId, field }) => (said.has(field) ? [[fieldId, said.get(field)!]] : [])))
  return (await nextOf(farm, byId as Map<number, string>)).next
}

/** A season file knows nothing of what was planted or is left: a plan may say the one, nobody the other. */
function rolledFile(path: string, options: FallOptions) {
  const season = must(readSeason(must(options.readFile(path)), basename(path)))
  if (season.season >= lastYear) {
    const what = `No season after ${lastYear} can be begun.`
    throw new ProblemError([{ code: 'bad-value', what, remedy: 'Look at the crop year of the file.' }])
  }
  const names = new Set(season.fields.map(({ name }) => name))
  const planted = options.plan === undefined ? [] : plantedIn(options.plan, options, names)
  const crops = new Map([...planted.map((field) => [field, peanut] as const), ...saidOf(options, names)])
  return rollSeason(season, crops, [])
}

const planFile = v.object({ plan: v.object({ blocks: v.array(v.object({ field: v.string() })) }, 'must be a plan') })

function plantedIn(path: string, { readFile }: FallOptions, names: ReadonlySet<string>): string[] {
  const raw = must(readFile(path))
  const parsed = v.safeParse(planFile, raw)
  if (!parsed.success) throw new ProblemError(problemsFrom(parsed.issues, raw, basename(path)))
  const fields = [...new Set(parsed.output.plan.blocks.map(({ field }) => field))]
  const unknown = fields.filter((field) => !names.has(field))
  if (unknown.length > 0) throw new ProblemError(unknown.map((field) => noField(field, basename(path))))
  return fields
}

function saidOf({ grew = [] }: FallOptions, names: ReadonlySet<string>): Map<string, string> {
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
