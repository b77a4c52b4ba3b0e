/** The queries that pages show now: who has saved something waits for the answer that has it, or hands the rows over. */
import type { CallName } from '../../src-shared/api.ts'
import type { SheetName, SheetRows } from '../../src-shared/sheet/sheet.ts'

interface ShownQuery {
  name: CallName
  upTo(revision: number): Promise<void>
  awaitRows(): () => void
  take(revision: number, changed: (value: unknown) => unknown): void
}

export const shown = new Set<ShownQuery>()

const named = (name: CallName) => [...shown].filter((query) => query.name === name)

/** Resolves when every query of that name shows an answer that holds at this revision. */
export async function showsUpTo(name: CallName, revision: number): Promise<void> {
  await Promise.all(named(name).map((query) => query.upTo(revision)))
}

/** The lists of a sheet, for one change of it: they are not asked for before its reply, which brings its rows. */
export class SheetLists {
  readonly #name: CallName
  readonly #lists: ShownQuery[]
  readonly #ends: (() => void)[]

  constructor(sheet: SheetName) {
    this.#name = `${sheet}.list`
    this.#lists = named(this.#name)
    this.#ends = this.#lists.map((list) => list.awaitRows())
  }

  /** Resolves when the lists have the rows: as a rule at once. */
  async take(revision: number, { rows, ids }: SheetRows): Promise<void> {
    const changed = new Map(rows.map((row) => [row.id, row]))
    for (const list of this.#lists) {
      list.take(revision, (value) => {
        const known = new Map((value as { id: number }[]).map((row) => [row.id, row]))
        const all = ids.flatMap((id) => changed.get(id) ?? known.get(id) ?? [])
        return all.length === ids.length ? all : null
      })
    }
    this.leave()
    await showsUpTo(this.#name, revision)
  }

  leave(): void {
    for (const end of this.#ends.splice(0)) end()
  }
}
