/** A command on a farm file: opened, asked through the engine's one door, and closed again whatever happens. */
import { resolve } from 'node:path'
import type { CallName, GivenInput, Output, Reply } from '../../src-shared/api.ts'
import { fail, ok, ProblemError, valueOf, type Result } from '../../src-shared/problem.ts'
import { createEngine } from './engine.ts'
import { openFarm } from './farm-file.ts'
import { createServer } from './serve.ts'

/** A call that must succeed: what is refused is thrown as a `ProblemError`. */
export type Must = <Name extends CallName>(name: Name, input: GivenInput<Name>) => Promise<Output<Name>>

export const asJson = (value: unknown) => `${JSON.stringify(value, null, 2)}\n`

/**
 * @param home the data folder, for a command that uses what is kept on this machine
 * @returns what is printed, or what is wrong
 */
export async function onFarm<Done>(
  path: string,
  work: (must: Must) => Promise<Done>,
  home = '',
): Promise<Result<Done>> {
  const opened = openFarm(resolve(path))
  if (!opened.ok) return opened
  const engine = createEngine({
    home,
    say: () => undefined,
    noteBug: (call, error) => process.stderr.write(`${call}: ${error instanceof Error ? error.message : 'failed'}\n`),
  })
  engine.farm = opened.value
  const server = createServer(engine)
  const must: Must = async (name, input) => {
    const reply = (await server.call(name, input)) as Reply<typeof name>
    return valueOf(reply) as Output<typeof name>
  }
  try {
    return ok(await work(must))
  } catch (error) {
    if (error instanceof ProblemError) return fail(...error.problems)
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
    throw new ProblemError([{ code: 'unknown-name', what: `The farm has no season ${year}.`, remedy }])
  }
  await must('season.open', { id: season.id })
}
