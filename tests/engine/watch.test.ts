/** Is the open file still the one that was opened: also where it was moved between two looks of one call. */
import { copyFileSync, renameSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { isInPlace, isSameFile, settle } from '../../src-main/engine/keeper/watch.ts'
import { addField, ownFarm } from '../support/own-farm.ts'

const moved = [
  ['renamed', (path: string) => renameSync(path, `${path}.elsewhere`)],
  [
    'replaced by another',
    (path: string) => {
      copyFileSync(path, `${path}.other`)
      renameSync(`${path}.other`, path)
    },
  ],
] as const

test.each(moved)('notices a file that was %s just before the stamps were renewed', async (_, move) => {
  const host = await ownFarm()
  await addField(host, 'A1')
  const { farm, home } = host.engine
  move(join(home, 'Creek.farm'))
  // The end of a call whose last look came before the move.
  settle(farm!.connection)
  expect(isInPlace(farm!.connection)).toBe(false)
  expect(isSameFile(farm!.connection)).toBe(false)
  expect(await host.call('backup.make', {})).toMatchObject({ ok: false, problems: [{ code: 'moved-away' }] })
})
