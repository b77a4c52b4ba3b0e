/**
 * A farm's files have one keeper: nothing else in the engine makes, moves, replaces or removes a file. What does was the way in
 * which farms were lost: a journal left under a name, a file removed that another had made.
 */
import { expect, test } from 'vitest'
import { sources } from './sources.ts'

/** Who else changes files, and which: none of these is a farm's own file. */
const others: Record<string, string> = {
  'src-main/engine/db/copy.ts': 'copies of a database, flushed and hashed; the keeper says where',
  'src-main/engine/db/seal.ts': 'the hash beside a closed file; the keeper says when',
  'src-main/engine/db/photo-store.ts': 'pictures beside backups, each under its hash',
  'src-main/engine/leftovers.ts': 'files that were half built when Standwell was killed, ten minutes old',
  'src-main/engine/db/connect.ts': 'the index that a look at another process left',
  'src-main/engine/backups.ts': 'backups that have had their time',
  'src-main/engine/farm-files.ts': 'a file that is brought in, or looked at, before it has a name',
  'src-main/engine/recent.ts': 'which farms were opened',
  'src-main/engine/import-answers.ts': 'answers that were given to imports',
  'src-main/engine/home.ts': 'the data folder and the log of faults',
  'src-main/engine/output-file.ts': 'what a command writes where it is told to, and never over a farm',
}

const changing =
  /^(append|chmod|chown|copyFile|cp|ftruncate|link|mkdir|mkdtemp|rename|rm|rmdir|symlink|truncate|unlink|utimes|write|writeFile|createWriteStream)/

const engine = sources(['.ts']).filter(({ path }) => path.startsWith('src-main/engine/'))

function changesFiles(text: string): string[] {
  const names = [...text.matchAll(/import \{([^}]*)\} from 'node:fs(?:\/promises)?'/g)].flatMap(([, list = '']) =>
    list.split(',').map((name) => name.trim().replace(/ as .*/, '')),
  )
  const whole = /import (?:\* as )?\w+ from 'node:fs(?:\/promises)?'/.test(text) ? ['all of node:fs'] : []
  return [...whole, ...names.filter((name) => changing.test(name))]
}

test('only the keeper changes the files of a farm', () => {
  const found = engine.filter(({ text }) => changesFiles(text).length > 0).map(({ path }) => path)
  expect(found.filter((path) => !path.startsWith('src-main/engine/keeper/') && !(path in others))).toEqual([])
  // A line that is needed no more goes.
  expect(Object.keys(others).filter((path) => !found.includes(path))).toEqual([])
})

test('a file that would is seen', () => {
  expect(changesFiles(`import { existsSync, rmSync as remove } from 'node:fs'`)).toEqual(['rmSync'])
  expect(changesFiles(`import { rename } from 'node:fs/promises'`)).toEqual(['rename'])
  expect(changesFiles(`import fs from 'node:fs'`)).toEqual(['all of node:fs'])
  expect(changesFiles(`import { existsSync, statSync } from 'node:fs'`)).toEqual([])
})
