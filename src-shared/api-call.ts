/** What a call of the contract is made of: its kinds, the tables it touches, the plainest inputs. `api.ts` lists the calls. */
import * as v from 'valibot'
import { nameText, rowId } from './primitive.ts'

/** Everything that a plan is made from. */
export const planned = [
  'field',
  'variety',
  'dealer',
  'quote',
  'carried',
  'window',
  'week',
  'machine',
  'measure',
  'threat',
  'contract',
] as const

/** What a stored plan names: it is shown under the names of now. */
export const named = ['field', 'variety', 'dealer', 'window', 'measure'] as const

/** Tables as the window knows them: a change announces these, a live query listens to them. */
export const tableNames = [
  'farm',
  'season',
  ...planned,
  'rule',
  'assumption',
  'lock',
  'plan',
  'draft',
  'order',
  'delivery',
  'lot',
  'planting',
  'load',
  'cost',
  'seen',
  'lesson',
  'setting',
  'undo',
  'backup',
] as const
export type TableName = (typeof tableNames)[number]

type InputSchema = v.GenericSchema

export interface Call<Kind extends 'read' | 'change' | 'task', Input extends InputSchema, Output> {
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
  /** May also run while a closed season is read: it changes nothing of that one. */
  inAnySeason?: true
  /** Changes the farm all the same: where what is open is only a copy to look at, it would be lost with it. */
  notInCopy?: true
  /** task: starts at once, beside whatever runs, and takes the engine's `alone` around its own writing. */
  beside?: true
}

/** Names an output type; there is no value behind it. */
export function is<Output>(): Output {
  return undefined as Output
}

/** Looks, never writes. */
export function read<Input extends InputSchema, Output>(
  call: Omit<Call<'read', Input, Output>, 'kind'>,
): Call<'read', Input, Output> {
  return { kind: 'read', ...call }
}

/** Writes in one transaction, one at a time, as one undo step when `undo` is given. */
export function change<Input extends InputSchema, Output>(
  call: Omit<Call<'change', Input, Output>, 'kind'>,
): Call<'change', Input, Output> {
  return { kind: 'change', ...call }
}

/** Takes long or swaps the open file; looks after its own transactions. */
export function task<Input extends InputSchema, Output>(
  call: Omit<Call<'task', Input, Output>, 'kind'>,
): Call<'task', Input, Output> {
  return { kind: 'task', ...call }
}

export const nothing = v.strictObject({})
export const id = rowId
export const name = nameText
