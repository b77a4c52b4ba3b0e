/** Work that is done whole or not at all, and as one step of undo where it has words for one. */
import type { Connection } from './connect.ts'
import { beginUndoStep, endUndoStep } from './undo.ts'

/** @param label words of its undo step; null: it is none */
export async function inTransaction<Value>(
  connection: Connection,
  label: string | null,
  work: () => Value | Promise<Value>,
): Promise<Value> {
  connection.exec('BEGIN IMMEDIATE')
  try {
    if (label !== null) beginUndoStep(connection, label)
    const value = await work()
    if (label !== null) endUndoStep(connection)
    connection.exec('COMMIT')
    return value
  } catch (error) {
    // Some failures (a full disk) have already rolled back; a second ROLLBACK would hide the first error.
    if (connection.inTransaction) connection.exec('ROLLBACK')
    throw error
  }
}
