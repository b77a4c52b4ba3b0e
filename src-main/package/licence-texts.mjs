/** The licences of the packages that ship, word for word, as most of them ask of whoever passes them on. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { project } from '../start/build.mjs'

/** @returns {string} */
export function licenceTexts() {
  const list = JSON.parse(readFileSync(join(project, 'src-shared', 'licences.json'), 'utf8'))
  return list
    .map(({ name, version, licence }) => `${name} ${version} (${licence})\n\n${textOf(name, licence)}\n`)
    .join(`\n${'-'.repeat(79)}\n\n`)
}

function textOf(name, licence) {
  const folder = join(project, 'node_modules', name)
  const file = readdirSync(folder).find((entry) => /^(licen[cs]e|copying)(\.|$)/i.test(entry))
  return file === undefined ? `Its package says only: ${licence}.` : readFileSync(join(folder, file), 'utf8').trim()
}
