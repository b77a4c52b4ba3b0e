/** The rows of a noun that is one table with tables below it, in the noun's own shape and with their ids. */
import { byPosition } from '../../../src-shared/name-order.ts'
import type { Connection } from '../db/connect.ts'
import { withoutNulls } from '../db/row.ts'
import type { Shape } from './shape.ts'
import { Writer } from './writer.ts'

type Row = { id: number } & Record<string, unknown>
type Named = string | undefined

/** Flags are kept as 0 and 1. */
const flags = ['isTreated', 'mustUse', 'isOwnGrown', 'isPesticide', 'perAcre', 'rests']

/** Sorted by what people look for first. */
export function listSheet<Noun extends object>(
  connection: Connection,
  seasonId: number,
  shape: Shape,
): (Noun & { id: number })[] {
  const writer = new Writer(connection, seasonId)
  const { table, entries, names = {}, records = {}, lists = {} } = shape
  const rows = writer.all<Row>(`SELECT * FROM "${table}" WHERE seasonId = ? ORDER BY id`, seasonId)
  const nameOf = Object.fromEntries(
    Object.entries(names).map(([property, { table: target }]) => [
      property,
      new Map([...writer.names(target).values()].map((each) => [each.id, each.name])),
    ]),
  )
  const entriesOf = Object.entries(records).map(([property, { table: below, owner, value }]) => ({
    property,
    of: Map.groupBy(
      writer.all<{ owner: number; name: string; value: unknown }>(
        `SELECT below."${owner}" AS owner, threat.name, below."${value}" AS value FROM "${below}" below
         JOIN threat ON threat.id = below.threatId WHERE threat.seasonId = ? ORDER BY threat.name`,
        seasonId,
      ),
      (row) => row.owner,
    ),
  }))
  const partsOf = Object.entries(lists).map(([property, { table: below, owner, columns }]) => ({
    property,
    of: Map.groupBy(
      writer.all<{ owner: number } & Record<string, unknown>>(
        `SELECT below."${owner}" AS owner, ${columns.map((column) => `below."${column}"`).join(', ')}
         FROM "${below}" below JOIN "${table}" above ON above.id = below."${owner}"
         WHERE above.seasonId = ? ORDER BY below."${columns[0]}", below.id`,
        seasonId,
      ),
      (row) => row.owner,
    ),
  }))
  return rows
    .map((row): Row => {
      const plain = withoutNulls(row) as Row
      const kept = Object.entries(plain).filter(([property]) => property === 'id' || property in entries)
      const noun = Object.fromEntries(kept) as Row
      for (const flag of flags) if (flag in noun) noun[flag] = noun[flag] === 1
      for (const [property, { column }] of Object.entries(names))
        noun[property] = nameOf[property]?.get(Number(row[column]))
      for (const { property, of } of entriesOf) {
        noun[property] = Object.fromEntries((of.get(row.id) ?? []).map((entry) => [entry.name, entry.value]))
      }
      for (const { property, of } of partsOf) {
        noun[property] = (of.get(row.id) ?? []).map(({ owner: _, ...part }) => part)
      }
      return noun
    })
    .sort(
      byPosition(
        ({ dealer }) => dealer as Named,
        ({ variety }) => variety as Named,
        ({ name, lot }) => (name ?? lot) as Named,
      ),
    ) as never
}
