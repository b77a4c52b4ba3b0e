/** The calls of fall: loads, trouble seen, costs; the next season from this one, and the ones before. Part of the contract in `api.ts`. */
import * as v from 'valibot'
import type { LoadTerms } from './agronomy/load-worth.ts'
import { id, is, nothing, planned, read, tableNames, task } from './api-call.ts'
import type { CostRow } from './cost.ts'
import type { HarvestNow, HarvestWaiting } from './harvest-total.ts'
import type { FarmSummary } from './farm.ts'
import type { LoadRow } from './load.ts'
import type { WrittenFile } from './sheet/bring-in.ts'
import { rollSchema, type RollLook, type SeasonRow } from './roll.ts'
import type { SeenRow } from './seen.ts'

export const fallCalls = {
  /** Every load with its net weight and what it is worth. They are changed as a sheet. */
  'load.list': read({
    input: nothing,
    output: is<LoadRow[]>(),
    tables: ['load', 'field', 'variety', 'planting', 'lot', 'assumption', 'season', 'setting'],
  }),
  /** What loads are reckoned by: for the working of one. */
  'load.terms': read({ input: nothing, output: is<LoadTerms>(), tables: ['assumption', 'season'] }),
  'seen.list': read({ input: nothing, output: is<SeenRow[]>(), tables: ['seen', 'field', 'threat'] }),
  'cost.list': read({ input: nothing, output: is<CostRow[]>(), tables: ['cost', 'field', 'dealer'] }),
  /** What was planted where, and what is known of costs without anybody typing it. */
  'harvest.list': read({
    input: nothing,
    output: is<HarvestNow>(),
    tables: [...planned, 'planting', 'lot', 'order', 'cost', 'plan', 'assumption'],
  }),
  /** What waits at harvest, for the rail. */
  'harvest.waiting': read({
    input: nothing,
    output: is<HarvestWaiting>(),
    tables: ['load', 'field', 'variety', 'planting', 'lot', 'assumption', 'season', 'setting'],
  }),

  /** Every season of the farm with what it came to, newest first. */
  'season.list': read({
    input: nothing,
    output: is<SeasonRow[]>(),
    tables: ['season', ...planned, 'planting', 'lot', 'order', 'plan', 'load', 'assumption'],
  }),
  /** What the next season would begin with, and what is asked first. */
  'season.look': read({
    input: nothing,
    output: is<RollLook>(),
    tables: ['season', ...planned, 'planting', 'lot', 'order', 'plan', 'draft', 'lock'],
  }),
  /** Closes the season for reading and begins the next from it; it looks after its own transaction and undo step. */
  'season.roll': task({ input: rollSchema, output: is<FarmSummary>(), tables: tableNames }),
  /** The season at hand with all that happened in it, as one season file. Pictures of tags stay in the farm. */
  'season.archive': read({ input: nothing, output: is<WrittenFile>(), tables: tableNames }),
  /** Goes to another season of the farm: the open one, or one that is over, to read in it. */
  'season.open': task({
    inAnySeason: true,
    input: v.strictObject({ id }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
} as const
