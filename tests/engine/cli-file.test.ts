/** Backups by command: made, listed, gone back to; and what is refused. */
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { fileCommand } from '../../src-main/engine/cli-file.ts'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import { newFarm, temporaryFolder } from '../support/open-file.ts'

const printed = async (...args: Parameters<typeof fileCommand>) => {
  const done = await fileCommand(...args)
  if (!done.ok) throw new Error(JSON.stringify(done.problems))
  return done.value
}

function acresOf(path: string, change?: number): number {
  const opened = openFarm(path)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  const { connection } = opened.value
  if (change !== undefined) connection.prepare('UPDATE field_season SET acres = ? WHERE id = 1').run(change)
  const acres = connection.prepare('SELECT acres FROM field_season WHERE id = 1').pluck().get() as number
  opened.value.close()
  return acres
}

test('made, listed, gone back to', async () => {
  const farm = newFarm()
  farm.close()
  expect(await printed('restore', farm.path, undefined, false)).toBe('Test.farm has no backup.\n')
  const before = acresOf(farm.path)
  const name = (await printed('backup', farm.path, undefined, false)).trim()
  expect(name).toMatch(/by hand\.farm$/)
  acresOf(farm.path, 11)
  expect(await printed('restore', farm.path, undefined, false)).toContain(name)
  expect(await printed('restore', farm.path, name, false)).toContain('is as it was')
  expect(acresOf(farm.path)).toBe(before)
  expect(JSON.parse(await printed('restore', farm.path, undefined, true))).toHaveLength(2)
})

test('no farm, no such backup, a farm in use', async () => {
  expect(await fileCommand('backup', join(temporaryFolder(), 'No.farm'), undefined, false)).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file' }],
  })
  const farm = newFarm()
  expect(await fileCommand('backup', farm.path, undefined, false)).toMatchObject({
    ok: false,
    problems: [{ code: 'in-use' }],
  })
  expect(await fileCommand('restore', farm.path, 'No.farm', false)).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file' }],
  })
})
