/** A farm's file as an earlier version left it: all steps but the last two, and a farm with a season in it. */
import { join } from 'node:path'
import { migrations } from '../../migrations/index.ts'
import { createDatabase } from '../../src-main/engine/db/connect.ts'

export function makeOldFarm(home: string): void {
  const old = createDatabase(join(home, 'Old.farm'))
  for (const step of migrations.slice(0, -2)) old.exec(step.sql)
  old.pragma(`user_version = ${migrations.at(-3)?.version}`)
  old.exec(`INSERT INTO farm (id, name, createdAt) VALUES (1, 'Old', '2026-12-01T08:00:00.000Z');
    INSERT INTO season (id, farmId, year) VALUES (4, 1, 2027)`)
  old.close()
}
