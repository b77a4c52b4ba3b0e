/**
 * Brings a file to today's tables. Kysely's own migrator does not run SQLite's steps in a transaction; this one
 * runs all that are due in a single one, with `user_version` set inside it: a file is of one version or of the
 * next, never between.
 */
import type { Migration } from '../../../migrations/index.ts'
import { migrations as allSteps } from '../../../migrations/index.ts'
import type { Connection } from './connect.ts'

/** What the file is now. */
export function versionOf(connection: Connection): number {
  return connection.pragma('user_version', { simple: true }) as number
}

/**
 * @param copyFirst called before a file that already has tables is changed; what it throws stops the migration
 * @returns the versions that were stepped through
 */
export function migrate(
  connection: Connection,
  copyFirst: (version: number) => void,
  steps: readonly Migration[] = allSteps,
): number[] {
  const from = versionOf(connection)
  const due = steps.filter((step) => step.version > from)
  const last = due.at(-1)
  if (!last) return []
  if (from > 0) copyFirst(from)
  // Rebuilding a table drops it for a moment; SQLite's advice is references off around, checked before the commit.
  connection.pragma('foreign_keys = OFF')
  try {
    connection.exec('BEGIN IMMEDIATE')
    for (const step of due) connection.exec(step.sql)
    // Steps taken before speak of columns as they were.
    if (from > 0) connection.exec('DELETE FROM undo_step; DELETE FROM undo_change')
    const broken = connection.pragma('foreign_key_check') as { table: string }[]
    if (broken[0])
      throw new Error(`Migrating to ${last.version} left a row of ${broken[0].table} that refers to nothing.`)
    connection.pragma(`user_version = ${last.version}`)
    connection.exec('COMMIT')
  } catch (error) {
    if (connection.inTransaction) connection.exec('ROLLBACK')
    throw error
  } finally {
    connection.pragma('foreign_keys = ON')
  }
  return due.map((step) => step.version)
}
