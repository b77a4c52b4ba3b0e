/**
 * The packages that ship with Standwell, with their licences: what the sources import, and all that those depend on.
 * `node tests/tools/licences.mjs` writes the list that the window shows; a test holds the list to this.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire, isBuiltin } from 'node:module'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const project = fileURLToPath(new URL('../..', import.meta.url))
const list = join(project, 'src-shared', 'licences.json')

/** @returns {{ name: string, version: string, licence: string }[]} by name */
export function shippedPackages() {
  const found = new Map()
  const visit = (name, from) => {
    const folder = folderOf(name, from)
    if (folder === null || found.has(name)) return
    const manifest = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
    found.set(name, { name, version: manifest.version, licence: licenceOf(manifest) })
    // Electron's own dependencies only fetch it.
    if (name === 'electron') return
    for (const needed of Object.keys(manifest.dependencies ?? {})) visit(needed, folder)
  }
  for (const name of imported()) visit(name, project)
  return [...found.values()].sort((a, b) => (a.name < b.name ? -1 : 1))
}

function licenceOf({ license, licenses }) {
  return typeof license === 'string' ? license : (license?.type ?? licenses?.map(({ type }) => type).join(' or ') ?? '')
}

function folderOf(name, from) {
  const folders = createRequire(join(from, 'package.json')).resolve.paths(name) ?? []
  return folders.map((folder) => join(folder, name)).find((folder) => existsSync(join(folder, 'package.json'))) ?? null
}

/** Names of packages in the import lines of what is built. */
function imported() {
  const names = new Set()
  for (const folder of ['src-main', 'src-shared', 'src-renderer', 'migrations']) {
    for (const file of readdirSync(join(project, folder), { recursive: true, encoding: 'utf8' })) {
      if (!/\.(ts|svelte|css)$/.test(file)) continue
      const text = readFileSync(join(project, folder, file), 'utf8')
      for (const [, from] of text.matchAll(/(?:from|import|@import|import\(|url\()\s*['"]([^'".][^'"]*)['"]/g)) {
        const name = from.startsWith('@') ? from.split('/').slice(0, 2).join('/') : from.split('/')[0]
        if (!isBuiltin(from) && folderOf(name, project) !== null) names.add(name)
      }
    }
  }
  return names
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const rows = shippedPackages().map((row) => `  ${JSON.stringify(row)}`)
  writeFileSync(list, `[\n${rows.join(',\n')}\n]\n`)
  process.stdout.write(`${rows.length} packages\n`)
}
