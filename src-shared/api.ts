/**
 * THE contract between window and engine. Each call states its input (checked at the engine's door), its
 * output type, the tables it touches (live queries on them rerun) and, for a change, its words in the undo
 * menu. `src-main/engine/handlers.ts` maps every name to a function: a missing or extra one does not compile.
 */
import * as v from 'valibot'
import type { Bearing, LedgerTopic } from './book/ledger.ts'
import type { FarmSummary, UndoState } from './farm.ts'
import type { FieldRow } from './field.ts'
import type { PlanRecord, SolveProgress } from './plan.ts'
import type { Dealer, QuoteRow } from './quote.ts'
import type { Problem } from './problem.ts'
import type { Rule } from './rule.ts'
import type { HouseDrop } from './sheet/house-drop.ts'
import { sheetChangeSchema, type SheetOutcome } from './sheet/sheet.ts'
import type { Measure, Threat } from './threat.ts'
import type { Carried, VarietyRow } from './variety.ts'
import type { Machine, PlantingWindow } from './window.ts'

/** Tables as the window knows them: a change announces these, a live query listens to them. */
export const tableNames = [
  'farm',
  'season',
  'field',
  'variety',
  'dealer',
  'quote',
  'carried',
  'window',
  'machine',
  'measure',
  'threat',
  'rule',
  'assumption',
  'lock',
  'plan',
  'setting',
  'undo',
] as const
export type TableName = (typeof tableNames)[number]

type InputSchema = v.GenericSchema

interface Call<Kind extends 'read' | 'change' | 'task', Input extends InputSchema, Output> {
  kind: Kind
  input: Input
  /** Phantom: carries the output's type, never a value. */
  output: Output
  /** read: reruns when these change. change and task: announced when done. */
  tables: readonly TableName[]
  /** Words for the undo menu, which may hang on what is done; absent where there is nothing to take back. */
  undo?: string | ((input: v.InferOutput<Input>) => string)
  /** Of `tables`, those that this input touches; absent: all of them. */
  touches?: (input: v.InferOutput<Input>) => readonly TableName[]
  /** task: starts at once, beside whatever runs, and takes the engine's `alone` around its own writing. */
  beside?: true
}

/** Names an output type; there is no value behind it. */
function is<Output>(): Output {
  return undefined as Output
}

/** Looks, never writes. */
function read<Input extends InputSchema, Output>(
  call: Omit<Call<'read', Input, Output>, 'kind'>,
): Call<'read', Input, Output> {
  return { kind: 'read', ...call }
}

/** Writes in one transaction, one at a time, as one undo step when `undo` is given. */
function change<Input extends InputSchema, Output>(
  call: Omit<Call<'change', Input, Output>, 'kind'>,
): Call<'change', Input, Output> {
  return { kind: 'change', ...call }
}

/** Takes long or swaps the open file; looks after its own transactions. */
function task<Input extends InputSchema, Output>(
  call: Omit<Call<'task', Input, Output>, 'kind'>,
): Call<'task', Input, Output> {
  return { kind: 'task', ...call }
}

const nothing = v.strictObject({})
const id = v.pipe(v.number(), v.integer(), v.minValue(1))
const name = v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(80))
/** Everything that a plan is made from. */
const planned = ['field', 'variety', 'dealer', 'quote', 'carried', 'window', 'machine', 'measure', 'threat'] as const
const bookKey = v.pipe(v.string(), v.minLength(1), v.maxLength(300))
const settingValue = v.pipe(
  v.union([v.string(), v.number(), v.boolean(), v.null(), v.record(v.string(), v.unknown()), v.array(v.unknown())]),
  v.check((value) => JSON.stringify(value).length <= 100_000, 'must not be longer than 100,000 characters'),
)
const rowsOf = <Row>() => is<(Row & { id: number })[]>()

export const api = {
  /** The open farm, or null. */
  'farm.current': read({ input: nothing, output: is<FarmSummary | null>(), tables: ['farm', 'season'] }),
  /** A fresh copy of the demo farm, opened. */
  'farm.openDemo': task({ input: nothing, output: is<FarmSummary>(), tables: tableNames }),
  /** A new farm file with the regional starting assumptions and no fields. */
  'farm.start': task({
    input: v.strictObject({ name, season: v.pipe(v.number(), v.integer(), v.minValue(2000), v.maxValue(2200)) }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
  'farm.close': task({ input: nothing, output: is<null>(), tables: tableNames }),

  'field.list': read({
    input: nothing,
    output: is<FieldRow[]>(),
    // A row says what the field is held to.
    tables: ['field', 'season', 'lock', 'variety'],
  }),

  'variety.list': read({ input: nothing, output: is<VarietyRow[]>(), tables: ['variety'] }),

  'quote.list': read({ input: nothing, output: is<QuoteRow[]>(), tables: ['quote', 'dealer', 'variety'] }),
  'dealer.list': read({ input: nothing, output: rowsOf<Dealer>(), tables: ['dealer'] }),
  'carried.list': read({ input: nothing, output: rowsOf<Carried>(), tables: ['carried', 'variety'] }),
  'window.list': read({ input: nothing, output: rowsOf<PlantingWindow>(), tables: ['window'] }),
  'machine.list': read({ input: nothing, output: rowsOf<Machine>(), tables: ['machine'] }),
  'measure.list': read({ input: nothing, output: rowsOf<Measure>(), tables: ['measure', 'threat'] }),
  'threat.list': read({ input: nothing, output: rowsOf<Threat>(), tables: ['threat'] }),
  'rule.list': read({ input: nothing, output: rowsOf<Rule>(), tables: ['rule', 'variety', 'threat'] }),

  /** Cells, new rows and removed rows of one sheet: one transaction, one undo step, named by what the user did. */
  'sheet.change': change({
    input: sheetChangeSchema,
    output: is<SheetOutcome>(),
    tables: [...planned, 'rule', 'lock'],
    touches: ({ sheet, removed }) => (removed.length > 0 ? [...planned, 'rule', 'lock'] : [sheet]),
    undo: ({ says }) => says,
  }),

  /** The book of assumptions by topic: the default beside the farm's own value. */
  'book.list': read({ input: nothing, output: is<LedgerTopic[]>(), tables: ['assumption', 'threat'] }),
  /** What a row of the book is felt in this season. */
  'book.bearing': read({
    input: v.strictObject({ key: bookKey }),
    output: is<Bearing>(),
    tables: [...planned, 'rule', 'assumption'],
  }),
  'book.set': change({
    input: v.strictObject({
      key: bookKey,
      value: v.union([v.number(), v.string()]),
      source: v.optional(v.pipe(v.string(), v.maxLength(2000))),
    }),
    output: is<null>(),
    tables: ['assumption'],
    undo: 'Change an assumption',
  }),
  /** The default holds again; of all rows where no key is given. */
  'book.reset': change({
    input: v.strictObject({ key: v.nullable(bookKey) }),
    output: is<null>(),
    tables: ['assumption'],
    undo: ({ key }) => (key === null ? 'Reset the whole book' : 'Reset an assumption'),
  }),
  /** What a pound and a pack plant where nothing is said of a field: the house drop on the usual rows. */
  'house.drop': read({ input: nothing, output: is<HouseDrop>(), tables: ['field', 'assumption'] }),

  /** Column widths, matches of columns and the like: kept with the file, not taken back by undo. */
  'setting.list': read({ input: nothing, output: is<Record<string, unknown>>(), tables: ['setting'] }),
  'setting.set': change({
    input: v.strictObject({ key: name, value: settingValue }),
    output: is<null>(),
    tables: ['setting'],
  }),

  /** Keep a variety on a field in every plan until released; null releases. */
  'lock.set': change({
    input: v.strictObject({ fieldId: id, variety: v.nullable(name) }),
    output: is<null>(),
    tables: ['lock'],
    undo: 'Lock a field',
  }),

  /** The newest plan with its proof, and whether the numbers behind it have changed since. */
  'plan.latest': read({
    input: nothing,
    output: is<PlanRecord | null>(),
    tables: ['plan', ...planned, 'rule', 'assumption', 'lock', 'season'],
  }),
  'plan.solve': task({
    input: v.strictObject({
      /** Stop when proven within this share of the least cost [0–0.2]. */
      gap: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(0.2)), 0.001),
      /** Wall clock, the last net [s]. */
      seconds: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(3600)), 60),
    }),
    output: is<PlanRecord>(),
    tables: ['plan'],
    beside: true,
  }),
  /** Stops the running plan and keeps the best found; true if one was running. */
  'plan.stop': task({ input: nothing, output: is<boolean>(), tables: [], beside: true }),

  'undo.state': read({ input: nothing, output: is<UndoState>(), tables: ['undo', 'farm'] }),
  'undo.back': task({ input: nothing, output: is<UndoState>(), tables: tableNames }),
  'undo.forward': task({ input: nothing, output: is<UndoState>(), tables: tableNames }),
} as const

export type Api = typeof api
export type CallName = keyof Api
export type Input<Name extends CallName> = v.InferOutput<Api[Name]['input']>
export type GivenInput<Name extends CallName> = v.InferInput<Api[Name]['input']>
export type Output<Name extends CallName> = Api[Name]['output']

export type Reply<Name extends CallName = CallName> =
  { ok: true; value: Output<Name> } | { ok: false; problems: Problem[] }

/** What the engine says unasked. */
export type News =
  | { kind: 'changed'; tables: readonly TableName[] }
  | { kind: 'progress'; progress: SolveProgress }
  | { kind: 'engine'; state: 'ready' | 'restarted' | 'stopped' }

/** How a window reaches an engine; Electron's port, a loopback socket or a direct call in tests. */
export interface Transport {
  call<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Reply<Name>>
  /** Returns a function that stops listening. */
  listen(hear: (news: News) => void): () => void
}
