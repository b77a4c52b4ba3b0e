/** The test files whose sets are too long for every commit: those that take a part of them by `tests/support/sampled.ts`. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const project = fileURLToPath(new URL('../..', import.meta.url))

/** @returns {string[]} from the project's folder on, in an order that begins with those the plan rests on */
export function exhaustiveFiles() {
  const names = readdirSync(join(project, 'tests'), { recursive: true, encoding: 'utf8' })
  const files = names
    .map((name) => `tests/${name.replaceAll('\\', '/')}`)
    .filter((name) => name.endsWith('.test.ts') && name !== 'tests/support/sampled.test.ts')
    .filter((name) => /support\/sampled\.ts'/.test(readFileSync(join(project, name), 'utf8')))
  return files.sort(
    (one, other) => Number(other.includes('/plan/')) - Number(one.includes('/plan/')) || (one < other ? -1 : 1),
  )
}
