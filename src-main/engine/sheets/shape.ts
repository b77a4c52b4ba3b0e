/**
 * The store of a noun that is one table with tables below it, from a description of those: its flags, what it names,
 * its records by threat, its lists. Fields and rules are told apart from their tables, so they have stores of their own.
 */
import type * as v from 'valibot'
import type { Noun, Store } from './store.ts'
import type { NamedTable, Writer } from './writer.ts'

export interface Shape {
  table:
    | 'variety'
    | 'dealer'
    | 'quote'
    | 'carried_seed'
    | 'planting_window'
    | 'machine'
    | 'season_week'
    | 'measure'
    | 'threat'
    | 'load'
    | 'threat_seen'
    | 'cost_entry'
    | 'contract'
  entries: Readonly<Record<string, v.GenericSchema>>
  /** Property → what it names and the column that holds the id. */
  names?: Readonly<Record<string, { table: NamedTable; column: string }>>
  /** Property → table of entries by threat. */
  records?: Readonly<Record<string, { table: string; owner: string; value: string }>>
  /** Property → table of its parts, whose columns are the parts' properties. */
  lists?: Readonly<Record<string, { table: string; owner: string; columns: readonly string[] }>>
  /** Others name it, so no two may have one name. */
  isNamed?: boolean
}

type Bound = string | number | null

/** How the database keeps a plain value. */
export function bound(value: unknown): Bound {
  return typeof value === 'boolean' ? Number(value) : ((value ?? null) as Bound)
}

/** As `bound` had it: a yes or no again, and null where there is nothing. */
export function unbound(schema: v.GenericSchema | undefined, value: unknown): unknown {
  const { type } = (schema as { wrapped?: { type: string } } | undefined)?.wrapped ?? schema ?? { type: '' }
  return type === 'boolean' && value !== null ? value === 1 : (value ?? null)
}

/** Throws, as a bug, for a threat that is not there: the caller has looked. */
export function threatId(writer: Writer, name: string): number {
  const id = writer.idOf('threat', name)
  if (id === undefined) throw new Error(`The threat ${name} is not there: names are checked before.`)
  return id
}

/** Writes one entry of a record by threat; null takes it away. */
export function putEntry(
  writer: Writer,
  { table, owner, value }: { table: string; owner: string; value: string },
  ownerId: number,
  threat: string,
  entry: Bound,
): void {
  const id = threatId(writer, threat)
  if (entry === null) {
    writer.run(`DELETE FROM "${table}" WHERE "${owner}" = ? AND threatId = ?`, ownerId, id)
    return
  }
  const there = writer.one<number>(`SELECT id FROM "${table}" WHERE "${owner}" = ? AND threatId = ?`, ownerId, id)
  if (there === undefined) writer.insert(table, { [owner]: ownerId, threatId: id, [value]: entry })
  else writer.set(table, there, value, entry)
}

/** A sentence where the name is taken by another row. */
export function takenName(writer: Writer, table: NamedTable, id: number | null, values: Noun): string | null {
  const { name } = values
  if (typeof name !== 'string') return null
  const other = writer.names(table).get(name.toLowerCase())
  return other && other.id !== id ? `There is a ${wordOf[table]} named “${other.name}” already` : null
}

const wordOf: Record<NamedTable, string> = {
  field: 'field',
  field_season: 'field',
  variety: 'variety',
  dealer: 'dealer',
  planting_window: 'planting window',
  machine: 'machine',
  measure: 'measure',
  threat: 'threat',
  contract: 'contract',
}

export function storeOf(shape: Shape): Store {
  const { table, names = {}, records = {}, lists = {} } = shape
  const named = shape.isNamed ? (table as NamedTable) : null

  function idNamed(writer: Writer, property: string, name: unknown): number {
    const { table: target } = names[property] as { table: NamedTable }
    const id = writer.idOf(target, String(name))
    if (id === undefined) throw new Error(`${String(name)} is not there: names are checked before.`)
    return id
  }

  function putList(writer: Writer, property: string, ownerId: number, parts: unknown, isNew: boolean) {
    const { table: below, owner, columns } = lists[property] as { table: string; owner: string; columns: string[] }
    if (!isNew) writer.remove(below, owner, ownerId)
    writer.insertAll(
      below,
      [owner, ...columns],
      ((parts ?? []) as Noun[]).map((part) => [ownerId, ...columns.map((column) => bound(part[column]))]),
    )
  }

  const compound = { ...names, ...records, ...lists }
  return {
    entries: shape.entries,
    plain: {
      names: new Set(Object.keys(shape.entries).filter((property) => !(property in compound))),
      value: (writer, id, property) =>
        unbound(shape.entries[property], writer.one(`SELECT "${property}" FROM "${table}" WHERE id = ?`, id)),
    },
    refers: Object.fromEntries(Object.entries(names).map(([property, { table: target }]) => [property, target])),
    ids: (writer) =>
      new Set(
        writer
          .all<{ id: number }>(`SELECT id FROM "${table}" WHERE seasonId = ?`, writer.seasonId)
          .map((row) => row.id),
      ),
    clash: (writer, id, values) => (named === null ? null : takenName(writer, named, id, values)),
    insert(writer, values) {
      const row: Record<string, Bound | undefined> = { seasonId: writer.seasonId }
      for (const [property, value] of Object.entries(values)) {
        if (property in records || property in lists || value === undefined) continue
        const name = names[property]
        if (name) row[name.column] = idNamed(writer, property, value)
        else row[property] = bound(value)
      }
      const id = writer.insert(table, row)
      for (const [property, { table: below, owner, value: column }] of Object.entries(records)) {
        const entries = Object.entries((values[property] ?? {}) as Noun)
        writer.insertAll(
          below,
          [owner, 'threatId', column],
          entries.map(([threat, entry]) => [id, threatId(writer, threat), bound(entry)]),
        )
      }
      for (const property of Object.keys(lists)) putList(writer, property, id, values[property], true)
      if (named) writer.noteNew(named, id, String(values['name']))
      return id
    },
    update(writer, id, property, entry, value) {
      const record = records[property]
      const name = names[property]
      if (record && entry !== null) putEntry(writer, record, id, entry, bound(value))
      else if (property in lists) putList(writer, property, id, value, false)
      else if (name) writer.set(table, id, name.column, value === null ? null : idNamed(writer, property, value))
      else {
        writer.set(table, id, property, bound(value))
        if (named && property === 'name') writer.noteName(named, id, String(value))
      }
    },
    remove(writer, id) {
      writer.remove(table, 'id', id)
      if (named) writer.noteName(named, id, null)
    },
  }
}
