/**
 * `npm run dev`, for those who work on Standwell. The window's files are served as they are and changed in place as they
 * change. All else (engine, shell, tables) is built anew and started again when it changes: in Electron the whole window,
 * in a browser the engine behind the page. Farms lie in a folder of the project, never among one's own.
 */
import { fork, spawn } from 'node:child_process'
import { randomBytes } from 'node:crypto'
import { once } from 'node:events'
import { mkdirSync, realpathSync, watch } from 'node:fs'
import { createServer as createTcpServer } from 'node:net'
import { join } from 'node:path'
import { createServer } from 'vite'
import config from '../../electron.vite.config.ts'
import { buildToWorkOn, project } from './build.mjs'
import { electronArgs, findElectron, hasDisplay } from './shell.mjs'

const watched = ['src-main', 'src-shared', 'migrations']
const say = (text) => process.stdout.write(`${text}\n`)

/** @param {string[]} args `browser`, or else what Electron is to be given */
export async function develop(args) {
  const home = process.env.STANDWELL_HOME || join(project, '.cache', 'farms')
  mkdirSync(home, { recursive: true })
  const env = { ...process.env, STANDWELL_HOME: home }
  const fault = await buildToWorkOn()
  if (fault !== null) {
    process.stderr.write(`${fault}\nMend this first; what cannot be built cannot be started.\n`)
    process.exitCode = 1
    return
  }
  if (args[0] === 'browser') return inBrowser(env)
  const electron = hasDisplay ? await findElectron() : null
  if (electron) return inElectron(electron, args, env)
  say('There is no Electron or no display here, so it is served to a browser, as npm run dev:browser does.')
  return inBrowser(env)
}

async function inElectron(program, args, env) {
  const pages = await servePages()
  const own = { ...env, STANDWELL_NODE: process.execPath, STANDWELL_DEV_PAGES: pages.address }
  const app = keepRunning(() => spawn(program, [...electronArgs, ...args], { stdio: 'inherit', env: own }), pages)
  buildOnChange(app.restart)
}

async function inBrowser(env) {
  const enginePort = await freePort()
  const engineAddress = `http://127.0.0.1:${enginePort}`
  // A page keeps the cookie of its first start; an engine that was started again has another.
  const own = {
    ticket: randomBytes(32).toString('base64url'),
    cookie: `standwell-dev=${randomBytes(32).toString('base64url')}`,
  }
  let engineCookie = ''
  const pages = await servePages(
    (request, asked) => {
      // Only what the page may ask is asked in the page's name: the engine refuses other origins and cookies as ever.
      if (asked.headers.origin === pages.origin) request.setHeader('origin', engineAddress)
      if (asked.headers.cookie?.split(/; */).includes(own.cookie)) request.setHeader('cookie', engineCookie)
    },
    engineAddress,
    own,
  )
  const engine = keepRunning(() => {
    const entry = join(project, 'out', 'main', 'start-alone.js')
    const child = fork(entry, {
      execArgv: ['--enable-source-maps'],
      env: { ...env, STANDWELL_PORT: String(enginePort) },
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    })
    child.once('message', async ({ address }) => {
      const isFirst = engineCookie === ''
      const entered = await fetch(address, { redirect: 'manual' })
      engineCookie = entered.headers.getSetCookie()[0].split(';')[0]
      if (isFirst) say(`Standwell is at ${pages.origin}/enter/${own.ticket}`)
    })
    return child
  }, pages)
  buildOnChange(engine.restart)
}

/**
 * The window's files, as they are.
 * @param change what is done to a call on its way to the engine, where pages make calls
 * @param own the ticket and the cookie of this start, where pages make calls
 */
async function servePages(change, engine, own) {
  const port = await freePort()
  const proxy = {
    target: engine,
    changeOrigin: true,
    configure: (server) => server.on('proxyReq', change),
  }
  const server = await createServer({
    ...config.renderer,
    plugins: [...config.renderer.plugins, ...(own ? [letIn(own)] : [])],
    configFile: false,
    mode: 'development',
    logLevel: 'warn',
    clearScreen: false,
    cacheDir: join(project, '.cache', 'vite'),
    server: {
      host: '127.0.0.1',
      port,
      strictPort: true,
      cors: false,
      hmr: { host: '127.0.0.1', clientPort: port },
      fs: { allow: [project, realpathSync(join(project, 'node_modules'))] },
      ...(engine ? { proxy: { '^/(call/|news$)': proxy } } : {}),
    },
  })
  await server.listen()
  const origin = `http://127.0.0.1:${port}`
  return { origin, address: `${origin}/`, close: () => server.close() }
}

/** Before the pages are served: these would answer any address. */
function letIn({ ticket, cookie }) {
  return {
    name: 'let-in',
    configureServer: ({ middlewares }) =>
      void middlewares.use(`/enter/${ticket}`, (_request, response) => {
        response.writeHead(303, { location: '/', 'set-cookie': `${cookie}; Path=/; HttpOnly; SameSite=Strict` }).end()
      }),
  }
}

/** One child at a time; the next only when the one before has closed its farm. Its own end is the end of all. */
function keepRunning(start, pages) {
  let child = null
  let isOver = false
  async function end(code = 0) {
    if (isOver) return
    isOver = true
    await stop()
    await pages.close()
    process.exit(code)
  }
  function begin() {
    const begun = start()
    begun.on('exit', (code) => {
      if (child === begun) void end(code ?? 1)
    })
    begun.on('error', () => void end(1))
    child = begun
  }
  async function stop() {
    const last = child
    child = null
    if (!last || last.exitCode !== null || last.signalCode !== null) return
    const over = once(last, 'exit')
    last.kill('SIGTERM')
    await over
  }
  async function restart() {
    await stop()
    if (!isOver) begin()
  }
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => void end())
  begin()
  return { restart }
}

const quiet = 150 // [ms] editors write a file in several steps

/** Builds when files have changed and lain still; what cannot be built is said, and what runs is left running. */
function buildOnChange(restart) {
  let timer
  let building = Promise.resolve()
  async function again() {
    const fault = await buildToWorkOn()
    if (fault !== null) return say(`${fault}\nWhat was started before runs on.`)
    await restart()
    say('Built and started again.')
  }
  for (const folder of watched) {
    watch(join(project, folder), { recursive: true }, () => {
      clearTimeout(timer)
      timer = setTimeout(() => (building = building.then(again)), quiet)
    })
  }
}

async function freePort() {
  const server = createTcpServer().listen(0, '127.0.0.1')
  await once(server, 'listening')
  const { port } = server.address()
  server.close()
  await once(server, 'close')
  return port
}
