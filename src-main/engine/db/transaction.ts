/**
 * The one gate to a farm's file: work that is done whole or not at all, and as one step of undo where it has words for one.
 * There is one connection, so a read in the middle of a transaction would see rows that may yet be rolled back: reads and
 * transactions take turns, in the order in which they came.
 */
import type { Connection } from './connect.ts'
import { beginUndoStep, endUndoStep } from './undo.ts'

/** Who holds a connection, and who comes after. */
interface Turns {
  /** Resolves when every transaction that was asked for is over. */
  written: Promise<unknown>
  /** Resolves when every read that was asked for is over. */
  reads: Promise<unknown>
}

const turnsOf = new WeakMap<Connection, Turns>()

function turns(connection: Connection): Turns {
  let own = turnsOf.get(connection)
  if (own === undefined) turnsOf.set(connection, (own = { written: Promise.resolve(), reads: Promise.resolve() }))
  return own
}

/** Never rejects: who waits for another's turn has no business with its failure. */
const over = (turn: Promise<unknown>) => turn.then(nothing, nothing)
const nothing = () => undefined

/** Reads rows while no transaction is open. Must not wait for a transaction of its own. */
export function inRead<Value>(connection: Connection, work: () => Value | Promise<Value>): Promise<Value> {
  const own = turns(connection)
  const turn = own.written.then(work)
  own.reads = Promise.all([own.reads, over(turn)])
  return turn
}

/** @param label words of its undo step; null: it is none */
export function inTransaction<Value>(
  connection: Connection,
  label: string | null,
  work: () => Value | Promise<Value>,
): Promise<Value> {
  const own = turns(connection)
  const turn = Promise.all([own.written, own.reads]).then(() => transaction(connection, label, work))
  own.written = over(turn)
  return turn
}

async function transaction<Value>(
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
