/** Whatever a farm is called, its file lands in the folder, under a name that every system takes. */
import fc from 'fast-check'
import { dirname, basename } from 'node:path'
import { expect, test } from 'vitest'
import { freePath, safeName } from '../../src-main/engine/farm-name.ts'

test.each([
  ['Long Leaf Farm', 'Long Leaf Farm'],
  ['../../etc/passwd', 'etc passwd'],
  ['C:\\Farms\\One', 'C Farms One'],
  ['con', 'Farm con'],
  ['NUL.old', 'Farm NUL.old'],
  ['...', 'Farm'],
  ['  A\u0000B\n', 'A B'],
])('%j → %j', (name, safe) => {
  expect(safeName(name)).toBe(safe)
})

test('any name stays in the folder', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 80 }), (name) => {
      const path = freePath('/farms', name, () => true)
      expect(dirname(path)).toBe('/farms')
      expect(basename(path)).toMatch(/^[^<>:"/\\|?*.\s][^<>:"/\\|?*]*\.farm$/)
    }),
  )
})

test('a taken name is counted on', () => {
  const taken = new Set(['/farms/Oak.farm', '/farms/Oak 2.farm'])
  expect(freePath('/farms', 'Oak', (path) => !taken.has(path.replaceAll('\\', '/')))).toMatch(/Oak 3\.farm$/)
})
