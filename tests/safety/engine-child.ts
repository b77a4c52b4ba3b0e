/** The real engine in a process of its own, as the app has it, to be killed. */
import { fork } from 'node:child_process'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { buildIfNeeded, project } from '../../src-main/start/build.mjs'
import type { DeskCallName, DeskInput } from '../../src-shared/api-desk.ts'
import type { CallName, GivenInput, Output, Reply } from '../../src-shared/api.ts'

export interface EngineChild {
  /** Null where the process was gone before it answered. */
  call<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Reply<Name> | null>
  must<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Output<Name>>
  /** As the shell asks, where paths cross. */
  desk<Name extends DeskCallName>(name: Name, input: DeskInput<Name>): Promise<Reply | null>
  /** No handler of its can put this off. */
  kill(): void
  /** As the app leaves: the farm is closed in order. */
  leave(): Promise<void>
  gone: Promise<void>
}

/** What it asks of the system that touches files, and what it sends. */
const asked =
  'trace=openat,write,writev,sendmsg,pwrite64,pwritev,fsync,fdatasync,rename,renameat,renameat2,link,linkat,unlink,unlinkat,ftruncate,mkdir'

/**
 * @param killAt the step of its work on files below the home that is its last; 0: none
 * @param trace file into which `strace` writes all that it asks of the system
 */
export async function startChild(home: string, killAt = 0, trace?: string): Promise<EngineChild> {
  await buildIfNeeded()
  const fault = { at: killAt, how: 'kill', below: home }
  const child = fork(join(project, 'out', 'main', 'start-in-app.js'), {
    env: { ...process.env, STANDWELL_HOME: home, ...(killAt > 0 ? { STANDWELL_FAULT: JSON.stringify(fault) } : {}) },
    ...(trace !== undefined && { execPath: 'strace' }),
    execArgv: [
      ...(trace === undefined ? [] : ['-f', '-y', '-s', '60', '-e', asked, '-o', trace, process.execPath]),
      ...(killAt > 0 ? ['--import', fileURLToPath(new URL('./fault.mjs', import.meta.url))] : []),
    ],
    serialization: 'advanced',
    stdio: 'ignore',
  })
  const pending = new Map<number, (reply: Reply | null) => void>()
  let isGone = false
  let isReady = () => undefined as void
  const ready = new Promise<void>((resolve) => (isReady = resolve))
  const gone = new Promise<void>((resolve) => {
    child.on('exit', () => {
      isGone = true
      for (const answer of pending.values()) answer(null)
      isReady()
      resolve()
    })
  })
  child.on('message', (message: { id?: number; reply?: string; news?: { kind: string; state?: string } }) => {
    if (message.news?.kind === 'engine') isReady()
    if (message.id === undefined) return
    pending.get(message.id)?.(message.reply === undefined ? null : (JSON.parse(message.reply) as Reply))
    pending.delete(message.id)
  })
  let lastId = 0
  const ask = (message: { name: string; input: unknown; desk?: true }) =>
    new Promise<Reply | null>((answer) => {
      if (isGone) return answer(null)
      lastId += 1
      pending.set(lastId, answer)
      // A send to a process that is just going fails; its exit answers.
      child.send({ id: lastId, ...message }, () => undefined)
    })
  const call: EngineChild['call'] = (name, input) => ask({ name, input }) as Promise<never>
  await ready
  return {
    call,
    async must(name, input) {
      const reply = await call(name, input)
      if (reply?.ok) return reply.value as never
      throw new Error(`${name}: ${JSON.stringify(reply)}`)
    },
    desk: (name, input) => ask({ name, input, desk: true }),
    kill: () => void child.kill('SIGKILL'),
    leave() {
      child.send({ close: true }, () => undefined)
      return gone
    },
    gone,
  }
}
