/** The test files whose sets are too long for every commit: those that take a part of them by `tests/support/sampled.ts`. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const project = fileURLToPath(new URL('../..', import.meta.url))

/** @returns {string[]} all test files, from the project's folder on */
function testFiles() {
  const names = readdirSync(join(project, 'tests'), { recursive: true, encoding: 'utf8' })
  return names.map((name) => `tests/${name.replaceAll('\\', '/')}`).filter((name) => name.endsWith('.test.ts'))
}

/** @returns {string[]} what `npm run test:safety` runs */
export const safetyFiles = () => testFiles().filter((name) => name.startsWith('tests/safety/'))

/** Those that take longest first, so that none is left for the end. @param {string[]} files */
export function heaviestFirst(files) {
  const weights = JSON.parse(readFileSync(new URL('./weights.json', import.meta.url), 'utf8'))
  return files.toSorted((one, other) => (weights[other] ?? 1) - (weights[one] ?? 1) || (one < other ? -1 : 1))
}

/** @returns {string[]} in an order that begins with those the plan rests on */
export function exhaustiveFiles() {
  const files = testFiles()
    .filter((name) => name !== 'tests/support/sampled.test.ts')
    .filter((name) => /support\/sampled\.ts'/.test(readFileSync(join(project, name), 'utf8')))
  return files.sort(
    (one, other) => Number(other.includes('/plan/')) - Number(one.includes('/plan/')) || (one < other ? -1 : 1),
  )
}
