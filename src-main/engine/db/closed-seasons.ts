/**
 * A closed season is read, never written. The engine's door says so to people; these triggers hold it against our own
 * mistakes. TEMP, like the undo recorder's: the file carries no code, and a new table is covered without a migration.
 */
import type { Connection } from './connect.ts'

/** Table's column → where the season of a row is found by it. */
const ways = [
  ['seasonId', (row: string) => `${row}."seasonId"`],
  ['fieldSeasonId', (row: string) => `(SELECT seasonId FROM main.field_season WHERE id = ${row}."fieldSeasonId")`],
  ['plantingId', (row: string) => seasonOfPlanting(`${row}."plantingId"`)],
  ['lotId', (row: string) => `(SELECT seasonId FROM main.lot WHERE id = ${row}."lotId")`],
  ['varietyId', (row: string) => `(SELECT seasonId FROM main.variety WHERE id = ${row}."varietyId")`],
  [
    'purchaseOrderId',
    (row: string) => `(SELECT seasonId FROM main.purchase_order WHERE id = ${row}."purchaseOrderId")`,
  ],
] as const

function seasonOfPlanting(id: string): string {
  return `(SELECT here.seasonId FROM main.planting JOIN main.field_season here ON here.id = planting.fieldSeasonId WHERE planting.id = ${id})`
}

/** Once, when a file is opened. */
export function guardClosedSeasons(connection: Connection): void {
  const tables = connection
    .prepare(`SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'`)
    .pluck()
    .all() as string[]
  // In one transaction, as the undo recorder's: one by one they take half as long again.
  const all: string[] = []
  for (const table of tables) {
    const columns = (connection.pragma(`table_info("${table}")`) as { name: string }[]).map(({ name }) => name)
    const way = ways.find(([column]) => columns.includes(column))
    if (!way) continue
    for (const [event, row] of [
      ['INSERT', 'new'],
      ['UPDATE', 'old'],
      ['DELETE', 'old'],
    ] as const) {
      all.push(`CREATE TEMP TRIGGER "closed_${event.toLowerCase()}_${table}" BEFORE ${event} ON main."${table}"
        WHEN (SELECT state FROM main.season WHERE id = ${way[1](row)}) = 'closed'
        BEGIN SELECT RAISE(ABORT, 'a closed season is not written in'); END`)
    }
  }
  connection.exec(`BEGIN; ${all.join(';')}; COMMIT`)
}
