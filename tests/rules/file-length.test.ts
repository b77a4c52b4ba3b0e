/** Small files named for one noun. Over 300 lines a file says why it is long; over 500 it is taken apart. */
import { describe, expect, test } from 'vitest'
import type { Source } from './sources.ts'
import { sources } from './sources.ts'

const reasonFrom = 300
const limit = 500
const shorter: Record<string, number> = { 'src-main/main.ts': 120, 'src-main/preload.ts': 40 }

/** The words to use in a long file's first comment, followed by the reason. */
const reason = /long because/i

function tooLong({ path, text }: Source): string | null {
  const lines = text.trimEnd().split('\n').length
  const most = shorter[path] ?? limit
  if (lines > most) return `${path} has ${lines} lines; the most is ${most}. Move one noun of it to a file of its own.`
  if (lines <= reasonFrom) return null
  const first = /^\s*(\/\*[\s\S]*?\*\/|<!--[\s\S]*?-->|(\/\/.*\n)+)/.exec(text)?.[0] ?? ''
  if (reason.test(first)) return null
  return `${path} has ${lines} lines; over ${reasonFrom} its first comment must say “Long because …”.`
}

test('no file is longer than it may be', () => {
  const long = sources(['.ts', '.mjs', '.svelte', '.css']).map(tooLong)
  expect(long.filter((message) => message !== null)).toEqual([])
})

describe('planted files', () => {
  const lines = (count: number, first = '') => `${first}\n${'let a\n'.repeat(count)}`
  test.each<[string, Source, boolean]>([
    ['300 lines', { path: 'a.ts', text: lines(298) }, false],
    ['over 300 without a reason', { path: 'a.ts', text: lines(301) }, true],
    [
      'over 300 with a reason',
      { path: 'a.ts', text: lines(301, '/** One table. Long because it is one table. */') },
      false,
    ],
    [
      'a reason that is not in the first comment',
      { path: 'a.ts', text: `${lines(301, '/** x */')}// Long because` },
      true,
    ],
    ['over 500 with a reason', { path: 'a.ts', text: lines(501, '/** Long because. */') }, true],
    ['a preload of 41 lines', { path: 'src-main/preload.ts', text: lines(41) }, true],
  ])('%s', (_name, source, caught) => {
    expect(tooLong(source) !== null).toBe(caught)
  })
})
