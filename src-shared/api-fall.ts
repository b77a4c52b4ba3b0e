/** The calls of fall: loads, trouble seen, costs. Part of the contract in `api.ts`. */
import type { LoadTerms } from './agronomy/load-worth.ts'
import { is, nothing, planned, read } from './api-call.ts'
import type { CostRow } from './cost.ts'
import type { HarvestNow, HarvestWaiting } from './harvest-total.ts'
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
  /** What was planted where, and what is known of costs without anybody typing it. */
  'harvest.list': read({
    input: nothing,
    output: is<HarvestNow>(),
    tables: [...planned, 'planting', 'lot', 'order', 'plan', 'assumption'],
  }),
  /** What waits at harvest, for the rail. */
  'harvest.waiting': read({
    input: nothing,
    output: is<HarvestWaiting>(),
    tables: ['load', 'field', 'variety', 'planting', 'lot', 'assumption', 'season'],
  }),
} as const
