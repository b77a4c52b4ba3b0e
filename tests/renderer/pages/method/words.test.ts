/** The glossary: in order, each word once, and each one that the program says somewhere else too. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { findWords, words } from '../../../../src-renderer/pages/method/words.ts'

/** What the window says, with the texts that it takes from the shared part; the page itself is left out. */
function sources(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((file) => file.isFile() && /\.(svelte|ts|json)$/.test(file.name) && !file.parentPath.includes('method'))
    .map((file) => readFileSync(join(file.parentPath, file.name), 'utf8').toLowerCase().replace(/\s+/g, ' '))
}

const folders = ['src-renderer', 'src-shared', 'src-main/demo', 'src-main/engine/plan']
const text = folders.flatMap(sources).join('\n')
/** Said only here, to tell what others mean. */
const trade = ['Inverting']

test.each(words.map(({ word }) => word).filter((word) => !trade.includes(word)))(
  '%s is a word of the window',
  (word) => {
    // Not toContain: it would print all of the window.
    expect(text.includes(word.toLowerCase())).toBe(true)
  },
)

test('each word stands once, by letter, with a sentence that ends', () => {
  const shown = findWords('').map(({ word }) => word)
  expect(new Set(shown.map((word) => word.toLowerCase())).size).toBe(words.length)
  expect(shown[0]).toBe('Acres an hour')
  expect(shown.at(-1)).toBe('Yield goal')
  for (const { says } of words) expect(says).toMatch(/^[A-Z0-9“].*\.$/)
})

test('a word is found by itself and by what is said of it, whatever its capitals', () => {
  expect(findWords('TWIN').map(({ word }) => word)).toContain('Twin rows')
  expect(findWords(' thrips ').map(({ word }) => word)).toEqual(['Spotted wilt'])
  expect(findWords('no such thing')).toEqual([])
})
