/**
 * Keeps one engine process running: starts it, passes calls, starts it again when it dies, and answers what was
 * pending so that no call hangs. On Electron 35 and later the engine is a utility process; an older Electron has
 * a Node too old for the database, so there it is forked on the Node that STANDWELL_NODE names.
 */
import { app, utilityProcess } from 'electron'
import { fork } from 'node:child_process'
import { join } from 'node:path'
import type { News, Reply } from '../../src-shared/api.ts'
import type { DeskCallName, DeskInput, DeskOutput } from '../../src-shared/api-desk.ts'
import type { Problem, Result } from '../../src-shared/problem.ts'
import { fail } from '../../src-shared/problem.ts'

export interface EngineProcess {
  /** A page's call: its reply as JSON, as it comes from the engine. The page alone takes it apart. */
  pass(name: string, input: unknown): Promise<string>
  /** A call like a page's, for the shell. */
  call(name: string, input: unknown): Promise<Reply>
  /** A call of the shell's own, which may name paths. */
  desk<Name extends DeskCallName>(name: Name, input: DeskInput<Name>): Promise<DeskReply<Name>>
  /** News from now on, and that it is ready where it was so before. */
  listen(hear: (news: News) => void): void
  /** The farm is closed first. @param slow hears after some seconds that it takes long, with a way to end it all the same */
  stop(slow: (end: () => void) => void): Promise<void>
}

export type DeskReply<Name extends DeskCallName> = Result<DeskOutput<Name>>

/** The two kinds of child, reduced to what is used of them. */
interface Child {
  send(message: unknown): void
  kill(): void
}
interface Hearing {
  message(message: unknown): void
  exit(): void
}

const pauseBeforeRestart = 500 // [ms] an engine that dies at once must not take a processor with it
const patience = 5_000 // [ms] for closing the farm when the app quits; then a person is asked, and a backup is not cut off

/** As soon as its kind can be: a utility process after Electron's `ready`, a fork at once. */
export function startEngine(entry: string): EngineProcess {
  const pending = new Map<number, (reply: string) => void>()
  let child: Child | null = null
  let lastId = 0
  let restarts = 0
  let stopping: (() => void) | null = null
  let isReady = false
  let say: (news: News) => void = () => undefined

  function start() {
    child = startChild(entry, { message: hear, exit: gone })
  }

  function hear(message: unknown) {
    const { id, reply, news } = message as { id?: number; reply?: string; news?: News }
    if (news?.kind === 'engine') isReady = news.state === 'ready'
    if (news) return say(news.kind === 'engine' && restarts > 0 ? { kind: 'engine', state: 'restarted' } : news)
    if (id === undefined || reply === undefined) return
    pending.get(id)?.(reply)
    pending.delete(id)
  }

  function gone() {
    child = null
    isReady = false
    for (const answer of pending.values()) answer(stoppedReply)
    pending.clear()
    if (stopping) return stopping()
    say({ kind: 'engine', state: 'stopped' })
    restarts += 1
    setTimeout(() => {
      if (!stopping) start()
    }, pauseBeforeRestart)
  }

  function send(message: { name: string; input: unknown; desk?: true }): Promise<string> {
    const to = child
    if (!to || stopping) return Promise.resolve(stoppedReply)
    return new Promise((answer) => {
      lastId += 1
      pending.set(lastId, answer)
      to.send({ id: lastId, ...message })
    })
  }

  const pass = (name: string, input: unknown) => send({ name, input })

  const call = async (name: string, input: unknown) => JSON.parse(await pass(name, input)) as Reply

  async function desk<Name extends DeskCallName>(name: Name, input: DeskInput<Name>) {
    return JSON.parse(await send({ name, input, desk: true })) as DeskReply<Name>
  }

  function stop(slow: (end: () => void) => void): Promise<void> {
    const running = child
    return new Promise((done) => {
      stopping = done
      if (!running) return done()
      setTimeout(() => {
        if (child === running) slow(() => running.kill())
      }, patience).unref()
      running.send({ close: true })
    })
  }

  function listen(hear: (news: News) => void) {
    say = hear
    if (isReady) hear({ kind: 'engine', state: 'ready' })
  }

  if (isForked()) start()
  else void app.whenReady().then(start)
  return { pass, call, desk, listen, stop }
}

/** An Electron whose own Node is too old for the database, and a Node named for it. */
function isForked(): boolean {
  return Boolean(process.env.STANDWELL_NODE) && Number(process.versions.electron.split('.')[0]) < 35
}

function startChild(entry: string, hearing: Hearing): Child {
  const execArgv = ['--enable-source-maps']
  // What was compiled is kept: every later start is a fifth sooner.
  const env = { ...process.env, NODE_COMPILE_CACHE: join(app.getPath('userData'), 'engine code') }
  const node = process.env.STANDWELL_NODE
  if (node && isForked()) {
    // That Node cannot read inside an archive: a package made for such an Electron has the engine's files beside it.
    const outside = entry.replace(/\bapp\.asar(?=[\\/])/, 'app.asar.unpacked')
    const forked = fork(outside, { execPath: node, execArgv, env, serialization: 'advanced' })
    forked.on('message', hearing.message)
    // `close` of the channel may come without `exit` where the program could not be started at all.
    let over = false
    const exit = () => {
      if (!over) hearing.exit()
      over = true
    }
    forked.on('exit', exit)
    forked.on('error', exit)
    return { send: (message) => void forked.send(message as object, () => undefined), kill: () => void forked.kill() }
  }
  const utility = utilityProcess.fork(entry, [], { execArgv, env, serviceName: 'Standwell engine' })
  utility.on('message', hearing.message)
  utility.on('exit', hearing.exit)
  return { send: (message) => utility.postMessage(message), kill: () => void utility.kill() }
}

const stopped: Problem = {
  code: 'engine-stopped',
  what: 'The part of Standwell that keeps the farm stopped before it answered.',
  remedy: 'It is being started again; look whether the last change is there, then go on.',
}

const stoppedReply = JSON.stringify(fail(stopped))
