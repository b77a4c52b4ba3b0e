/**
 * A command’s way to a farm file: opened, asked through the engine’s one door, closed again whatever happens. Commands that
 * need the database go this way only: the bundle then has the engine in one piece.
 */
import { resolve } from 'node:path'
import type { CallName, GivenInput, Output, Reply } from '../../src-shared/api.ts'
import { fail, ok, type Problem, type Result } from '../../src-shared/problem.ts'
import { createEngine } from './engine.ts'
import { openFarm } from './farm-file.ts'
import { createServer } from './serve.ts'

/** The value of a call; its problems end the command. */
export type Must = <Name extends CallName>(name: Name, input: GivenInput<Name>) => Promise<Output<Name>>

/** Ends a command with what is wrong. */
export class Refused extends Error {
  readonly problems: Problem[]
  constructor(problems: Problem[]) {
    super('refused')
    this.problems = problems
  }
}

export async function withFarm<T>(path: string, work: (must: Must) => Promise<T>): Promise<Result<T>> {
  const opened = openFarm(resolve(path))
  if (!opened.ok) return opened
  const engine = createEngine({
    home: '',
    say: () => undefined,
    noteBug: (call, error) => process.stderr.write(`${call}: ${error instanceof Error ? error.message : 'failed'}\n`),
  })
  engine.farm = opened.value
  const server = createServer(engine)
  const must: Must = async (name, input) => {
    const reply = (await server.call(name, input)) as Reply<typeof name>
    if (!reply.ok) throw new Refused(reply.problems)
    return reply.value as Output<typeof name>
  }
  try {
    return ok(await work(must))
  } catch (error) {
    if (error instanceof Refused) return fail(...error.problems)
    throw error
  } finally {
    await server.close()
  }
}

/** Goes to a season of the farm. @param year of the one that is wanted; absent: the open one */
export async function goTo(must: Must, year: string | undefined): Promise<void> {
  if (year === undefined) return
  const seasons = (await must('farm.current', {}))?.seasons ?? []
  const season = seasons.find((each) => String(each.year) === year)
  if (season === undefined) {
    const remedy = `It has ${seasons.map((each) => each.year).join(', ')}.`
    throw new Refused([{ code: 'unknown-name', what: `The farm has no season ${year}.`, remedy }])
  }
  await must('season.open', { id: season.id })
}
