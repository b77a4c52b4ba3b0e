/** The calls of fall: loads, trouble seen, costs. Part of the contract in `api.ts`. */
import type { LoadTerms } from './agronomy/load-worth.ts'
import { is, nothing, read } from './api-call.ts'
import type { CostRow } from './cost.ts'
import type { LoadRow } from './load.ts'
import type { SeenRow } from './seen.ts'

export const fallCalls = {
  /** Every load with its net weight and what it is worth. They are changed as a sheet. */
  'load.list': read({
    input: nothing,
    output: is<LoadRow[]>(),
    tables: ['load', 'field', 'variety', 'planting', 'lot', 'assumption', 'season'],
  }),
  /** What loads are reckoned by: for the working of one. */
  'load.terms': read({ input: nothing, output: is<LoadTerms>(), tables: ['assumption', 'season'] }),
  'seen.list': read({ input: nothing, output: is<SeenRow[]>(), tables: ['seen', 'field', 'threat'] }),
  'cost.list': read({ input: nothing, output: is<CostRow[]>(), tables: ['cost', 'field', 'dealer'] }),
} as const
