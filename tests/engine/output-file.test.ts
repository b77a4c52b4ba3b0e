/** What a command writes with --out: never over a farm, never over what it read, and whole. */
import { linkSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { expect, test } from 'vitest'
import { writeOutput } from '../../src-main/engine/output-file.ts'
import { newFarm, temporaryFolder } from '../support/open-file.ts'

test('refuses a farm, under any name and by any link', () => {
  const farm = newFarm()
  farm.close()
  const folder = dirname(farm.path)
  const before = readFileSync(farm.path)
  linkSync(farm.path, join(folder, 'plan.json'))
  symlinkSync(farm.path, join(folder, 'link.json'))
  for (const path of [farm.path, join(folder, 'plan.json'), join(folder, 'link.json')]) {
    expect(writeOutput(path, '{}', [])).toMatchObject({
      code: 'bad-file',
      what: expect.stringContaining('is a farm') as string,
    })
  }
  expect(readFileSync(farm.path)).toEqual(before)
})

test('refuses the file that the command reads', () => {
  const path = join(temporaryFolder(), 'X.season.json')
  writeFileSync(path, '{"season":1}')
  expect(writeOutput(path, '{}', [path])).toMatchObject({
    what: expect.stringContaining('this command reads') as string,
  })
  expect(readFileSync(path, 'utf8')).toBe('{"season":1}')
})

test('replaces an older file of its own, and leaves it where the new one cannot be written', () => {
  const folder = temporaryFolder()
  const path = join(folder, 'plan.json')
  expect(writeOutput(path, 'old', [])).toBeNull()
  expect(writeOutput(path, 'new', [])).toBeNull()
  expect(readFileSync(path, 'utf8')).toBe('new')
  // Something else bears the name that the new one is built under.
  mkdirSync(`${path}.part`)
  expect(writeOutput(path, 'newer', [])).toMatchObject({ code: 'bad-file' })
  expect(readFileSync(path, 'utf8')).toBe('new')
  expect(readdirSync(folder).sort()).toEqual(['plan.json', 'plan.json.part'])
})
