/** Copies and seals of farm files: never over what is there, never of what is spoilt, never a word that was not checked. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it, test } from 'vitest'
import { diskProblem, fileProblem } from '../../../src-main/engine/db/disk-problem.ts'
import { checkCopy, copyDatabase, isUnchanged } from '../../../src-main/engine/db/copy.ts'
import { sealFile, sealState } from '../../../src-main/engine/db/seal.ts'
import { endUndoStep } from '../../../src-main/engine/db/undo.ts'
import { newFarm, smallSeason, temporaryFolder } from '../../support/open-file.ts'

it('a copy does not take the place of a file', () => {
  const folder = temporaryFolder()
  const { connection } = newFarm(smallSeason(), folder)
  const target = join(folder, 'there.farm')
  writeFileSync(target, 'mine')
  expect(() => copyDatabase(connection, target)).toThrow('there.farm is there already.')
  expect(readFileSync(target, 'utf8')).toBe('mine')
})

it('a copy with a row that refers to nothing is refused', () => {
  const folder = temporaryFolder()
  const { connection } = newFarm(smallSeason(), folder)
  const target = join(folder, 'copy.farm')
  copyDatabase(connection, target)
  expect(isUnchanged(target)).toBe(true)
  checkCopy(target)
  connection.exec('PRAGMA foreign_keys = OFF; DELETE FROM dealer')
  const spoilt = join(folder, 'spoilt.farm')
  expect(() => copyDatabase(connection, spoilt)).toThrow(/spoilt.farm.* is damaged: a row of \w+ refers to nothing/)
  expect([spoilt, `${spoilt}.part`, `${spoilt}.sha256`].filter(existsSync)).toEqual([])
})

it('a seal is one only where it holds a hash, and a file with a journal has none', () => {
  const folder = temporaryFolder()
  const path = join(folder, 'a.farm')
  sealFile(path)
  expect(sealState(path)).toBe('none')
  writeFileSync(path, 'a farm')
  sealFile(path)
  expect(sealState(path)).toBe('whole')
  writeFileSync(path, 'another')
  expect(sealState(path)).toBe('broken')
  writeFileSync(`${path}.sha256`, 'what somebody typed')
  expect(sealState(path)).toBe('none')
  writeFileSync(`${path}-wal`, '')
  sealFile(path)
  expect(existsSync(`${path}.sha256`)).toBe(false)
})

test.each([
  ['SQLITE_BUSY', 'in-use', /Close it there first/],
  ['SQLITE_CORRUPT_INDEX', 'damaged', /newest backup/],
  ['ENOENT', 'bad-file', /moved or renamed/],
  ['ENOSPC', 'bad-file', /Make room/],
  ['EACCES', 'bad-file', /folder may be written in/],
])('%s is %s, with what to do', (code, kind, remedy) => {
  for (const error of [Object.assign(new Error('said'), { code }), { code }]) {
    expect(diskProblem('/x/My.farm', error)).toMatchObject({
      code: kind,
      what: expect.stringContaining('My.farm'),
      remedy: expect.stringMatching(remedy),
    })
  }
})

it('what is no fault of the disk is thrown on', () => {
  const bug = new TypeError('ours')
  expect(() => fileProblem('/x/My.farm', bug)).toThrow(bug)
  expect(diskProblem('/x/My.farm', null)).toBeNull()
})

it('an undo step that was not begun is not ended', () => {
  expect(() => endUndoStep(newFarm().connection)).toThrow('No undo step was begun.')
})
