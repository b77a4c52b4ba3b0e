/**
 * The engine under plain Node, with the window in a browser: where Electron's binary cannot be had, in
 * development and in tests. Prints one line, the address, and another when that was used: each opens one browser. STANDWELL_PORT asks
 * for a port.
 */
import { fileURLToPath } from 'node:url'
import { createEngine } from './engine.ts'
import { ensureDataHome, noteBugIn } from './home.ts'
import { clearLeftovers } from './leftovers.ts'
import type { Loopback } from './loopback.ts'
import { openLoopback } from './loopback.ts'
import { createServer } from './serve.ts'

const home = ensureDataHome()
clearLeftovers(home, Date.now())
const noteBug = noteBugIn(home)
let loopback: Loopback | null = null
const engine = createEngine({ home, noteBug, say: (news) => loopback?.say(news) })
const server = createServer(engine)

const port = Number(process.env.STANDWELL_PORT || 0)
const pages = fileURLToPath(new URL('../renderer', import.meta.url))
try {
  loopback = await openLoopback(server, pages, port, (next) => {
    process.stdout.write(`To open another browser: ${next}\n`)
    process.send?.({ next })
  })
} catch (error) {
  noteBug('start', error)
  process.stderr.write(`Port ${port} cannot be used. Set STANDWELL_PORT to another, or leave it out.\n`)
  process.exit(1)
}

let leaving = false
async function leave() {
  if (leaving) return
  leaving = true
  // A long import must not hold the terminal; SQLite takes back what was not committed.
  setTimeout(() => process.exit(0), 5_000).unref()
  await loopback?.close()
  await server.close()
  process.exit(0)
}
process.on('SIGINT', () => void leave())
process.on('SIGTERM', () => void leave())
// Started by start.mjs: when that goes, however it goes, so does this.
process.on('disconnect', () => void leave())

process.stdout.write(`Standwell is at ${loopback.address}\n`)
process.send?.({ address: loopback.address })
