/** The book of assumptions of the open season: read by topic, a row changed or put back, what a row is felt in. */
import type { Assumption } from '../../src-shared/assumption.ts'
import { Book } from '../../src-shared/assumption.ts'
import { bearingOf, ledgerOf, setAssumption, type Bearing, type LedgerTopic } from '../../src-shared/book/ledger.ts'
import type { RowChange } from '../../src-shared/book/change.ts'
import { starterBook } from '../../src-shared/book/starter.ts'
import { valueOf } from '../../src-shared/problem.ts'
import { houseDropOf, type HouseDrop } from '../../src-shared/sheet/house-drop.ts'
import type { OpenFarm } from './farm-file.ts'
import { insertRow } from './db/insert.ts'
import { gather } from './plan/gather.ts'

export async function bookNow({ db, seasonId }: OpenFarm): Promise<LedgerTopic[]> {
  return ledgerOf(await gather(db, seasonId))
}

export async function bearingNow({ db, seasonId }: OpenFarm, key: string): Promise<Bearing> {
  return bearingOf(await gather(db, seasonId), key)
}

/** The farm's own value in the place of the default. */
export async function setBook(farm: OpenFarm, key: string, change: RowChange): Promise<null> {
  const { db, connection, seasonId } = farm
  const { assumptions } = valueOf(setAssumption(await gather(db, seasonId), key, change))
  const row = assumptions.find((each) => each.key === key) as Assumption
  const { value, ...plain } = row
  // Taken away and put in anew, so that a word never stays beside a number.
  connection.prepare('DELETE FROM assumption WHERE seasonId = ? AND key = ?').run(seasonId, key)
  const kept = typeof value === 'number' ? { numberValue: value } : { wordValue: value }
  insertRow(connection, 'assumption', { seasonId, ...plain, ...kept })
  return null
}

/** The default of the row holds again; of every row where the key is null. */
export function resetBook({ connection, seasonId }: OpenFarm, key: string | null): null {
  if (key === null) connection.prepare('DELETE FROM assumption WHERE seasonId = ?').run(seasonId)
  else connection.prepare('DELETE FROM assumption WHERE seasonId = ? AND key = ?').run(seasonId, key)
  return null
}

export async function houseDropNow({ db, seasonId }: OpenFarm): Promise<HouseDrop> {
  const season = await gather(db, seasonId)
  const book = new Book(starterBook, season.assumptions)
  return houseDropOf(season.fields, {
    single: book.number('drop/seeds per foot/single'),
    twin: book.number('drop/seeds per foot/twin'),
  })
}
