/**
 * One call's hand on the tables of a season: statements prepared once, names looked up once. A paste of 10,000 rows
 * goes through it, so it is synchronous and asks the database nothing twice. Table and column names are always ours.
 */
import type { Connection } from '../db/connect.ts'

type Bound = string | number | null
type Statement = ReturnType<typeof prepare>

function prepare(connection: Connection, sql: string) {
  return connection.prepare<Bound[]>(sql)
}

/** [rows] in one statement: few enough that each count has a statement of its own. */
const mostTogether = 16

/** Things of a season that others name; `field_season` by the name of its ground. */
export type NamedTable =
  'field' | 'field_season' | 'variety' | 'dealer' | 'planting_window' | 'machine' | 'measure' | 'threat' | 'contract'

export class Writer {
  readonly #statements = new Map<string, Statement>()
  /** By table and columns. */
  readonly #inserts = new Map<string, Statement>()
  readonly #names = new Map<NamedTable, Map<string, { id: number; name: string }>>()

  readonly connection: Connection
  readonly seasonId: number

  constructor(connection: Connection, seasonId: number) {
    this.connection = connection
    this.seasonId = seasonId
  }

  #prepared(sql: string): Statement {
    let statement = this.#statements.get(sql)
    if (!statement) {
      statement = prepare(this.connection, sql)
      this.#statements.set(sql, statement)
    }
    return statement
  }

  run(sql: string, ...values: Bound[]): number {
    return Number(this.#prepared(sql).run(...values).lastInsertRowid)
  }

  all<Row>(sql: string, ...values: Bound[]): Row[] {
    return this.#prepared(sql).all(...values) as Row[]
  }

  one<Value>(sql: string, ...values: Bound[]): Value | undefined {
    return this.#prepared(sql)
      .pluck()
      .get(...values) as Value | undefined
  }

  /** @returns the new row's id; what is undefined is left to the table */
  insert(table: string, row: Record<string, Bound | undefined>): number {
    // By plain loops: this runs a hundred thousand times in an import.
    let shape = table
    const values: Bound[] = []
    for (const name in row) {
      const value = row[name]
      if (value === undefined) continue
      shape += `\n${name}`
      values.push(value)
    }
    let statement = this.#inserts.get(shape)
    if (!statement) {
      const names = shape.split('\n').slice(1)
      const into = names.map((name) => `"${name}"`).join(', ')
      const places = names.map(() => '?').join(', ')
      statement = prepare(this.connection, `INSERT INTO "${table}" (${into}) VALUES (${places})`)
      this.#inserts.set(shape, statement)
    }
    return Number(statement.run(...values).lastInsertRowid)
  }

  /** Rows below one row, in one statement: half the time of one by one. */
  insertAll(table: string, columns: readonly string[], rows: readonly (readonly Bound[])[]): void {
    for (let from = 0; from < rows.length; from += mostTogether) {
      const some = rows.slice(from, from + mostTogether)
      const shape = `${table}\n${columns.join('\n')}\n${some.length}`
      let statement = this.#inserts.get(shape)
      if (!statement) {
        const into = columns.map((name) => `"${name}"`).join(', ')
        const places = `(${columns.map(() => '?').join(', ')})`
        const all = some.map(() => places).join(', ')
        statement = prepare(this.connection, `INSERT INTO "${table}" (${into}) VALUES ${all}`)
        this.#inserts.set(shape, statement)
      }
      statement.run(...some.flat())
    }
  }

  set(table: string, id: number, column: string, value: Bound): void {
    this.run(`UPDATE "${table}" SET "${column}" = ? WHERE id = ?`, value, id)
  }

  remove(table: string, column: string, id: number): void {
    this.run(`DELETE FROM "${table}" WHERE "${column}" = ?`, id)
  }

  /** Lower-case name → the thing. Fields are of all seasons: a name belongs to the ground. */
  names(table: NamedTable): Map<string, { id: number; name: string }> {
    let names = this.#names.get(table)
    if (!names) {
      const rows =
        table === 'field'
          ? this.all<{ id: number; name: string }>('SELECT id, name FROM field')
          : table === 'field_season'
            ? this.all<{ id: number; name: string }>(
                'SELECT here.id, field.name FROM field_season here JOIN field ON field.id = here.fieldId WHERE here.seasonId = ?',
                this.seasonId,
              )
            : this.all<{ id: number; name: string }>(
                `SELECT id, name FROM "${table}" WHERE seasonId = ?`,
                this.seasonId,
              )
      names = new Map(rows.map((row) => [row.name.toLowerCase(), row]))
      this.#names.set(table, names)
    }
    return names
  }

  idOf(table: NamedTable, name: string): number | undefined {
    return this.names(table).get(name.toLowerCase())?.id
  }

  /** Notes a new or changed name; null when it goes. */
  noteName(table: NamedTable, id: number, name: string | null): void {
    const names = this.names(table)
    for (const [key, row] of names) if (row.id === id) names.delete(key)
    if (name !== null) names.set(name.toLowerCase(), { id, name })
  }

  /** As `noteName` for a thing that was not there before: nothing is looked through. */
  noteNew(table: NamedTable, id: number, name: string): void {
    this.names(table).set(name.toLowerCase(), { id, name })
  }
}
