/**
 * Pictures beside backups: each once, named by its hash, in a folder of the backups. A backup itself holds no bytes of pictures, so
 * that the twentieth backup of 300 MB of pictures costs no more than the farm's rows.
 */
import { createHash } from 'node:crypto'
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { createDatabase, type Connection } from './connect.ts'
import { flush, flushFolder } from './copy.ts'

/** Hashes of all pictures that rows or undo name. */
const named = `SELECT sha256 FROM tag_photo
  UNION SELECT json_extract(before, '$.sha256') FROM undo_change WHERE tableName = 'tag_photo'
  UNION SELECT json_extract(after, '$.sha256') FROM undo_change WHERE tableName = 'tag_photo'`

/** Before the backup that leaves them out has its name. */
export function keepPhotos(connection: Connection, folder: string): void {
  const rows = connection.prepare('SELECT sha256 FROM photo_content').pluck().all() as string[]
  const missing = rows.filter((hash) => !existsSync(join(folder, hash)))
  if (missing.length === 0) return
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  const bytesOf = connection.prepare('SELECT bytes FROM photo_content WHERE sha256 = ?').pluck()
  for (const hash of missing) {
    const building = join(folder, `${hash}.part`)
    writeFileSync(building, bytesOf.get(hash) as Buffer, { mode: 0o600 })
    flush(building)
    renameSync(building, join(folder, hash))
  }
  flushFolder(folder)
}

/** Pictures back into a copy that was made without them. One that is gone or spoilt stays out, and is told when it is looked at. */
export function bringPhotos(path: string, folder: string): void {
  if (!existsSync(folder)) return
  const copy = createDatabase(path)
  try {
    // A backup of an earlier version has them inside.
    if (!copy.prepare(`SELECT 1 FROM sqlite_schema WHERE name = 'photo_content'`).get()) return
    const missing = copy
      .prepare(
        `SELECT sha256 FROM (${named}) WHERE sha256 IS NOT NULL AND sha256 NOT IN (SELECT sha256 FROM photo_content)`,
      )
      .pluck()
      .all() as string[]
    const insert = copy.prepare('INSERT INTO photo_content (sha256, bytes) VALUES (?, ?)')
    copy.transaction(() => {
      // A name out of a stranger's file is no path.
      for (const hash of missing.filter((each) => /^[0-9a-f]{64}$/.test(each) && existsSync(join(folder, each)))) {
        const bytes = readFileSync(join(folder, hash))
        if (createHash('sha256').update(bytes).digest('hex') === hash) insert.run(hash, bytes)
      }
    })()
  } finally {
    copy.close()
  }
}

/** How many pictures of tags have no bytes in the file. */
export function missingPhotos(connection: Connection): number {
  return connection
    .prepare('SELECT count(*) FROM tag_photo WHERE sha256 NOT IN (SELECT sha256 FROM photo_content)')
    .pluck()
    .get() as number
}

/** The whole database but the bytes of pictures, as `VACUUM INTO` would write it. */
export function copyWithoutPhotos(connection: Connection, building: string): void {
  const number = (pragma: string) => connection.pragma(pragma, { simple: true }) as number
  // It is flushed as a whole before it has its name; until then nobody needs it.
  const unhurried = (database: Connection) => {
    database.pragma('synchronous = OFF')
    database.pragma('journal_mode = MEMORY')
  }
  const made = createDatabase(building)
  unhurried(made)
  made.pragma(`user_version = ${number('user_version')}`)
  const schema = connection
    .prepare(
      `SELECT type, name, sql FROM main.sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'`,
    )
    .all() as { type: string; name: string; sql: string }[]
  const ofType = (...types: string[]) => schema.filter(({ type }) => types.includes(type))
  try {
    made.transaction(() => ofType('table').forEach(({ sql }) => made.exec(sql)))()
  } finally {
    made.close()
  }
  connection.prepare('ATTACH ? AS copy').run(building)
  try {
    connection.pragma('copy.synchronous = OFF')
    connection.pragma('copy.journal_mode = MEMORY')
    connection.pragma('foreign_keys = OFF')
    connection.transaction(() => {
      for (const { name } of ofType('table')) {
        if (name !== 'photo_content') connection.exec(`INSERT INTO copy."${name}" SELECT * FROM main."${name}"`)
      }
      connection.exec(
        'DELETE FROM copy.sqlite_sequence; INSERT INTO copy.sqlite_sequence SELECT * FROM main.sqlite_sequence',
      )
    })()
  } finally {
    connection.pragma('foreign_keys = ON')
    connection.exec('DETACH copy')
  }
  // After the rows: the indexes are written in order, and no trigger speaks of a row that is only copied.
  const finished = createDatabase(building)
  unhurried(finished)
  try {
    finished.transaction(() => ofType('index', 'view', 'trigger').forEach(({ sql }) => finished.exec(sql)))()
  } finally {
    finished.close()
  }
}
