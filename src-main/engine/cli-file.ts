/** The commands on a farm as a file: a backup made, and one of them gone back to. */
import { basename, resolve } from 'node:path'
import { ok, ProblemError, fail, type Result } from '../../src-shared/problem.ts'
import { showMoment } from '../../src-shared/show.ts'
import { listBackups } from './backups.ts'
import { asJson, onFarm } from './cli-farm.ts'
import { createEngine } from './engine.ts'
import { textTable } from './export/text-table.ts'
import { restoreBackup } from './keeper/restoring.ts'

/**
 * @param backup file name of the backup to go back to; absent: the backups are listed
 * @returns what is printed, or what is wrong
 */
export async function fileCommand(
  verb: 'backup' | 'restore',
  path: string,
  backup: string | undefined,
  json: boolean,
): Promise<Result<string>> {
  if (verb === 'backup') {
    return onFarm(path, async (must) => {
      const made = await must('backup.make', {})
      return json ? asJson(made) : `${made.fileName}\n`
    })
  }
  const farm = resolve(path)
  if (backup === undefined) {
    const backups = listBackups(farm)
    if (json) return ok(asJson(backups))
    const rows = backups.map(({ fileName, madeAt }) => [showMoment(madeAt), fileName])
    return ok(rows.length === 0 ? `${basename(farm)} has no backup.\n` : textTable(['Made', 'Backup'], rows))
  }
  const engine = createEngine({ home: '', say: () => undefined, noteBug: () => undefined })
  try {
    restoreBackup(engine, farm, backup, new Date())
    return ok(`${basename(farm)} is as it was; what it was before is among its backups.\n`)
  } catch (error) {
    if (error instanceof ProblemError) return fail(...error.problems)
    throw error
  }
}
