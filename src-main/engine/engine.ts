/**
 * What every handler is given: the open farm, where farms are kept, and a way to speak unasked.
 * One engine a process; it holds no SQL and knows no host.
 */
import type { News } from '../../src-shared/api.ts'
import type { TakenFarm } from '../../src-shared/farm.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import type { OpenFarm } from './farm-file.ts'
import { inPlace } from './keeper/kept-copy.ts'

export interface Engine {
  farm: OpenFarm | null
  /** Farms that another program took away, until the person has read of it. Windows ask for them: news can be lost. */
  taken: readonly TakenFarm[]
  /** Counts what was announced as changed. It begins with the clock: after a restart it is greater than before. */
  revision: number
  /** The data folder; it exists. */
  readonly home: string
  say(news: News): void
  /** Keeps the particulars of a bug for whoever mends it; the person at the window sees a Problem only. */
  noteBug(call: string, error: unknown): void
  /**
   * Runs work while no change and no queued task runs. For a task marked `beside` in api.ts, around its
   * writing; a handler of any other kind already has the engine to itself and would wait for itself for ever.
   */
  alone<T>(work: () => T | Promise<T>): Promise<T>
}

/** The open farm, for a handler that needs one. */
export function farmOf(engine: Engine): OpenFarm {
  if (engine.farm) return engine.farm
  throw new ProblemError([
    { code: 'no-farm', what: 'No farm is open.', remedy: 'Open a farm, or start with the demo farm.' },
  ])
}

/** For work that let others in between: the farm that it began with must be the open one still. */
export function requireSameFarm(engine: Engine, farm: OpenFarm): void {
  if (engine.farm === farm) return
  throw new ProblemError([
    {
      code: 'no-farm',
      what: 'The farm was closed while its plan was being worked out.',
      remedy: 'Open it and ask again.',
    },
  ])
}

type Hearing = Pick<Engine, 'home' | 'say' | 'noteBug'>

export function createEngine(hearing: Hearing): Engine {
  let last: Promise<unknown> = Promise.resolve()
  const engine: Engine = {
    ...hearing,
    farm: null,
    taken: [],
    revision: Date.now() * 1000,
    alone(work) {
      const turn = last.then(() => inPlace(engine, work))
      last = turn.catch(() => undefined)
      return turn
    },
  }
  return engine
}
