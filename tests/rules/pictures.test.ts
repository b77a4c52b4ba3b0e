/** The README's pictures are all here, and none is here that it does not show. */
import { readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { expect, test } from 'vitest'

const project = resolve(import.meta.dirname, '../..')

test('the README shows every picture, and every picture that it shows is there', () => {
  const readme = readFileSync(join(project, 'README.md'), 'utf8')
  const shown = [...readme.matchAll(/!\[[^\]]{20,}\]\(tests\/pictures\/([\w-]+\.png)\)/g)].map(([, name]) => name)
  const there = readdirSync(join(project, 'tests', 'pictures')).filter((name) => name.endsWith('.png'))
  expect(there.length).toBeGreaterThan(2)
  expect(shown.sort()).toEqual(there.sort())
})
