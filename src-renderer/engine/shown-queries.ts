/** The queries that pages show now: a form asks them again after it has saved, and knows when the answer is on the page. */
import type { CallName } from '../../src-shared/api.ts'

interface ShownQuery {
  name: CallName
  /** Asks again. Resolves when the answer, or one that was asked for later, is shown. */
  refresh(): Promise<void>
}

export const shown = new Set<ShownQuery>()

/** Resolves when every query of that name shows an answer that was asked for after this call. */
export async function refreshed(name: CallName): Promise<void> {
  await Promise.all([...shown].filter((query) => query.name === name).map((query) => query.refresh()))
}
