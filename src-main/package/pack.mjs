/**
 * `npm run package`: builds, and packs Standwell for the system that this is.
 *   (nothing)  what people install (AppImage and deb, or an installer for Windows, or a disk image for macOS), with sums
 *   --dir      only the folder that would be packed, to look at or to start
 * ELECTRON_OVERRIDE_DIST_PATH names an Electron that is there already, as it does for npm start.
 */
import { createHash } from 'node:crypto'
import { readFileSync, writeFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import { build } from 'electron-builder'
import { buildIfNeeded, project } from '../start/build.mjs'
import { contents } from './contents.mjs'

const isFolder = process.argv.includes('--dir')
const electronDist = process.env.ELECTRON_OVERRIDE_DIST_PATH

await buildIfNeeded()
try {
  const packed = await build({
    projectDir: project,
    config: { ...contents, ...(electronDist ? { electronDist } : {}) },
    dir: isFolder,
  })
  if (!isFolder) writeSums(packed)
} catch (error) {
  const isOffline = /ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ETIMEDOUT|fetch failed/.test(error.message)
  const offline = 'Electron and the tools that make installers are fetched when first needed, and could not be.'
  process.stderr.write(`Standwell was not packed. ${isOffline ? offline : error.message}\n`)
  process.exitCode = 1
}

/** What somebody who was given a file checks it against. */
function writeSums(files) {
  const lines = files.map(
    (file) => `${createHash('sha256').update(readFileSync(file)).digest('hex')}  ${basename(file)}`,
  )
  writeFileSync(join(project, 'dist', 'SHA256SUMS'), `${lines.join('\n')}\n`)
}
