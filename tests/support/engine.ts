/** The third host: the real engine in the test's own process, with a home of its own that is removed afterwards. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { CallName, GivenInput, News, Output, Reply, Transport } from '../../src-shared/api.ts'
import type { Engine } from '../../src-main/engine/engine.ts'
import { createEngine } from '../../src-main/engine/engine.ts'
import type { Calls, Server } from '../../src-main/engine/serve.ts'
import { createServer } from '../../src-main/engine/serve.ts'

export interface TestEngine extends Transport {
  engine: Engine
  server: Server
  /** As `call`, but gives the value and throws the problems: for steps that must succeed. */
  must<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Output<Name>>
  /** All that the engine said, oldest first. */
  news: News[]
  /** Bugs that the engine noted; a test that expects none can say so. */
  bugs: { call: string; error: unknown }[]
  close(): Promise<void>
}

export function startTestEngine(calls?: Calls): TestEngine {
  const home = mkdtempSync(join(tmpdir(), 'standwell-home-'))
  const host = engineAt(home, calls)
  return {
    ...host,
    async close() {
      await host.close()
      rmSync(home, { recursive: true, force: true })
    },
  }
}

/** In a home that is there already, and is there afterwards. */
export function engineAt(home: string, calls?: Calls): TestEngine {
  const news: News[] = []
  const bugs: TestEngine['bugs'] = []
  const hearers = new Set<(news: News) => void>()
  const engine = createEngine({
    home,
    noteBug: (call, error) => bugs.push({ call, error }),
    say(item) {
      news.push(item)
      for (const hear of hearers) hear(item)
    },
  })
  const server = createServer(engine, calls)
  const call = <Name extends CallName>(name: Name, input: GivenInput<Name>) =>
    server.call(name, input) as Promise<Reply<Name>>
  return {
    engine,
    server,
    news,
    bugs,
    call,
    async must(name, input) {
      const reply = await call(name, input)
      if (reply.ok) return reply.value
      throw new Error(`${name}: ${JSON.stringify(reply.problems)}`, { cause: bugs.at(-1)?.error })
    },
    listen(hear) {
      hearers.add(hear)
      return () => hearers.delete(hear)
    },
    close: () => server.close(),
  }
}

/** One engine around one piece of work. */
export async function withServer<T>(work: (server: Server) => Promise<T>): Promise<T> {
  const host = startTestEngine()
  try {
    return await work(host.server)
  } finally {
    await host.close()
  }
}
