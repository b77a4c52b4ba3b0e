/**
 * The engine inside the desktop app: a utility process of Electron, or a Node forked by it. Same messages both
 * ways: in {id, name, input}, out {id, reply} or {news}; `desk: true` marks a call of the shell's own, which no
 * page can make. Leaves when the app does, so no engine is orphaned.
 */
import { deskCalls } from '../../src-shared/api-desk.ts'
import { deskHandlers } from './desk-calls.ts'
import { createEngine } from './engine.ts'
import { ensureDataHome, noteBugIn } from './home.ts'
import { clearLeftovers } from './leftovers.ts'
import { reopenEarly } from './recent.ts'
import { createServer } from './serve.ts'

/** Electron's own end of the line; absent in plain Node, and not in its types. */
interface ParentPort {
  on(event: 'message', hear: (event: { data: unknown }) => void): void
  postMessage(message: unknown): void
}
const { parentPort } = process as { parentPort?: ParentPort }

const send = (message: unknown) => (parentPort ? parentPort.postMessage(message) : process.send?.(message))

const home = ensureDataHome()
clearLeftovers(home, Date.now())
const noteBug = noteBugIn(home)
const engine = createEngine({ home, noteBug, say: (news) => send({ news }) })
const server = createServer(engine)
const desk = createServer(engine, { entries: deskCalls, handlers: deskHandlers })

async function hear(message: unknown) {
  if (typeof message !== 'object' || message === null) return
  const { id, name, input, close, desk: isDesk } = message as Record<string, unknown>
  if (close === true) return leave()
  if (typeof id !== 'number' || typeof name !== 'string') return
  // As text: it goes through three processes, and is taken apart in the last only.
  send({ id, reply: JSON.stringify(await (isDesk === true ? desk : server).call(name, input)) })
}

async function leave() {
  await server.close()
  process.exit(0)
}

if (parentPort) parentPort.on('message', (event) => void hear(event.data))
else {
  process.on('message', (message) => void hear(message))
  process.on('disconnect', () => void leave())
}
// A terminal's Ctrl+C reaches every process of the group; the app decides when the engine goes.
process.on('SIGINT', () => undefined)
process.on('SIGTERM', () => void leave())

send({ news: { kind: 'engine', state: 'ready' } })
// While the window is still being painted: its first question is which farm is open.
void engine.alone(() => reopenEarly(engine))
