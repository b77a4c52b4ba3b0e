/** What ships is listed with its licence, and every licence lets it ship in a program of the MIT licence. */
import { expect, test } from 'vitest'
import licences from '../../src-shared/licences.json' with { type: 'json' }
import { shippedPackages } from '../tools/licences.mjs'

test('the list in the window is what ships; node tests/tools/licences.mjs writes it', () => {
  expect(licences).toEqual(shippedPackages())
  for (const name of ['better-sqlite3', 'chart.js', 'electron', 'highs', 'kysely', 'svelte', 'valibot']) {
    expect(licences.map((row) => row.name)).toContain(name)
  }
})

test('all may be shipped', () => {
  const free =
    /^\(?(MIT|ISC|BSD-2-Clause|BSD-3-Clause|Apache-2\.0|0BSD|OFL-1\.1|CC0-1\.0|Unlicense|BlueOak-1\.0\.0|Zlib)( OR .*\)?)?$/
  expect(licences.filter(({ licence }) => !free.test(licence))).toEqual([])
})

test('the lock file names exact versions, each with its hash', async () => {
  const { readFileSync } = await import('node:fs')
  const lock = JSON.parse(readFileSync(new URL('../../package-lock.json', import.meta.url), 'utf8')) as {
    packages: Record<string, { version?: string; integrity?: string; link?: boolean }>
  }
  const loose = Object.entries(lock.packages).filter(
    ([path, { version, integrity, link }]) =>
      path !== '' && !link && (!/^\d+\.\d+\.\d+/.test(version ?? '') || !integrity),
  )
  expect(loose.map(([path]) => path)).toEqual([])
  const manifest = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as Record<
    'dependencies' | 'devDependencies',
    Record<string, string>
  >
  const ranges = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies })
  expect(ranges.filter(([, version]) => !/^\d/.test(version))).toEqual([])
})
