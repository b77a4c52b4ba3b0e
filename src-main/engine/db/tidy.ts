/** What a farm's file is relieved of when it is closed: pictures and plan inputs that nothing names, undo that is too old, and pages that are empty. */
import type { Connection } from './connect.ts'
import { pruneUndo } from './undo.ts'

/** A smaller gain is not worth writing the file anew. */
const leastGain = { bytes: 4 * 1024 * 1024, share: 0.25 }

/** Outside of any transaction. Throws what the disk says; the file is whole all the same. */
export function tidy(connection: Connection, now: Date): void {
  connection.transaction(() => {
    pruneUndo(connection, now)
    connection.exec(`DELETE FROM photo_content WHERE sha256 NOT IN (
      SELECT sha256 FROM tag_photo
      UNION SELECT json_extract(before, '$.sha256') FROM undo_change
        WHERE tableName = 'tag_photo' AND json_extract(before, '$.sha256') IS NOT NULL
      UNION SELECT json_extract(after, '$.sha256') FROM undo_change
        WHERE tableName = 'tag_photo' AND json_extract(after, '$.sha256') IS NOT NULL)`)
    connection.exec('DELETE FROM plan_input WHERE hash NOT IN (SELECT inputHash FROM plan)')
  })()
  const number = (pragma: string) => connection.pragma(pragma, { simple: true }) as number
  const empty = number('freelist_count')
  const isWorthIt = empty * number('page_size') >= leastGain.bytes && empty >= number('page_count') * leastGain.share
  if (isWorthIt) connection.exec('VACUUM')
}
