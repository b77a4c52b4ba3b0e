/** Whether a person has changed a demo farm. One that has been changed is kept and backed up like any farm of theirs. */
import type { Connection } from './connect.ts'

/** A setting: how many undo steps the demo had when we made it. */
const stepsAsMade = 'undo steps as made'

/** How many undo steps the file has ever had; undone and forgotten ones count. */
function stepsEver(connection: Connection): number {
  const seq = connection.prepare(`SELECT seq FROM sqlite_sequence WHERE name = 'undo_step'`).pluck().get()
  return (seq as number | undefined) ?? 0
}

/** What stands in the demo now is as we made it. */
export function noteAsMade(connection: Connection): void {
  connection
    .prepare('INSERT INTO setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value')
    .run(stepsAsMade, String(stepsEver(connection)))
}

export function isChangedDemo(connection: Connection): boolean {
  const asMade = connection.prepare('SELECT value FROM setting WHERE key = ?').pluck().get(stepsAsMade)
  return stepsEver(connection) > Number((asMade as string | undefined) ?? 0)
}
