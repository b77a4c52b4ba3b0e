/** Costs as a sheet: a seed invoice is what a dealer asked for, so it is never below zero. */
import type { Store } from './store.ts'

export function costStore(plain: Store): Store {
  return {
    ...plain,
    askew(writer, id, values) {
      if (id !== null && !('kind' in values) && !('cents' in values)) return null
      const [saved] = id === null ? [] : writer.all<object>('SELECT kind, cents FROM cost_entry WHERE id = ?', id)
      const { kind, cents } = { ...saved, ...values } as { kind?: string; cents?: number }
      if (kind !== 'seed' || cents === undefined || cents >= 0) return null
      return {
        path: 'cents',
        what: 'a seed invoice cannot be below $0: it stands in place of the dealer’s order',
        remedy: 'Choose the kind “return credit” for money that the dealer gave back, and type it without a minus.',
      }
    },
  }
}
