/** The project's own source files, for tests that read code as text. Paths are from the root, with forward slashes. */
import { readdirSync, readFileSync } from 'node:fs'
import { resolve } from 'node:path'

const root = resolve(import.meta.dirname, '../..')
const folders = ['src-shared', 'migrations', 'src-main', 'src-renderer', 'tests']

export interface Source {
  path: string
  text: string
}

export function sources(endings: string[]): Source[] {
  return folders.flatMap((folder) =>
    readdirSync(resolve(root, folder), { recursive: true, encoding: 'utf8' })
      .map((path) => `${folder}/${path.replaceAll('\\', '/')}`)
      .filter((path) => endings.some((ending) => path.endsWith(ending)))
      .sort()
      .map((path) => ({ path, text: readFileSync(resolve(root, path), 'utf8') })),
  )
}
