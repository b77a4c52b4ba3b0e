/**
 * What the desktop shell asks of the engine for itself: files where a person put them, by the system's own dialogs. Paths
 * cross here, so this door is the shell's alone: a page's call never reaches it, whatever its name.
 */
import * as v from 'valibot'
import { is, nothing, read, tableNames, task } from './api-call.ts'
import type { FarmSummary } from './farm.ts'
import { words } from './primitive.ts'

const path = words(4096)

export interface FarmPlace {
  path: string
  fileName: string
}

export const deskCalls = {
  /** The folder where farms are kept. */
  'desk.home': read({ input: nothing, output: is<string>(), tables: [] }),
  /** Farms that were opened, the last first, as far as their files are there. */
  'desk.recent': read({ input: nothing, output: is<FarmPlace[]>(), tables: ['farm'] }),
  /** A farm's file where it lies, opened there. */
  'desk.open': task({
    inAnySeason: true,
    input: v.strictObject({ path }),
    output: is<FarmSummary>(),
    tables: tableNames,
  }),
  /** A whole copy of the open farm, in place of the file that is there: the system's dialog has asked. */
  'desk.copyTo': task({ inAnySeason: true, input: v.strictObject({ path }), output: is<FarmPlace>(), tables: [] }),
  /** The open farm to another place or name, with its backups; the farm stays open. */
  'desk.moveTo': task({
    inAnySeason: true,
    notInCopy: true,
    input: v.strictObject({ path }),
    output: is<FarmPlace>(),
    tables: ['farm', 'backup'],
  }),
} as const

export type DeskCallName = keyof typeof deskCalls
export type DeskInput<Name extends DeskCallName> = v.InferOutput<(typeof deskCalls)[Name]['input']>
export type DeskOutput<Name extends DeskCallName> = (typeof deskCalls)[Name]['output']
