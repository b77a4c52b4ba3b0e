/** The farm, its file and the season that is open. */
import * as v from 'valibot'
import { nameText } from './primitive.ts'
import type { Problem } from './problem.ts'

export const farmSchema = v.strictObject({
  name: nameText,
  county: v.optional(nameText),
  state: v.optional(nameText),
})

export type Farm = v.InferOutput<typeof farmSchema>

/** What the window shows of the open farm. */
export interface FarmSummary {
  name: string
  county: string | null
  /** File name without its folder; the window never sees a path. */
  fileName: string
  /** Crop year that is at hand, as 2027: the open one, or an earlier one that is read. */
  season: number
  /** It is read, not changed: the season at hand is closed, or it is a copy. */
  isReadOnly: boolean
  /** Set where the farm is open elsewhere and this is a copy of it, to look at: when it was so, ISO time. */
  copyOf: string | null
  /** Why its disk lets it be looked at only, in words; null where it can be changed. */
  refusal: string | null
  /** All that the farm has, newest first. */
  seasons: { id: number; year: number; isOpen: boolean; isAtHand: boolean }[]
  isDemo: boolean
  fields: number
  /** [acre] planted acres of all fields. */
  acres: number
}

/** A farm's file as the first page lists it: of the folder where farms are kept, or opened before from elsewhere. */
export interface FarmFile {
  fileName: string
  /** Name of the folder it lies in, where that is another than the one where farms are kept. */
  folder: string | null
  /** ISO time of the last change. */
  changedAt: string
  /** The file is not there any more, and its backups are: it can be put back from one of them. */
  isGone: boolean
}

/** A farm that another program moved, replaced or changed while it was open. It is closed; the problem names the copy. */
export interface TakenFarm {
  /** The file that was open. */
  fileName: string
  problem: Problem
}

/** What the undo record keeps at most; told on the page *Farm file*. */
export const undoLimits = { steps: 500, bytes: 32 * 1024 * 1024, days: 365 }

export interface UndoState {
  /** Words of the step that would be taken back, or null. */
  back: string | null
  forward: string | null
  /** Why older steps are gone, where they are; absent: nothing is to be told. */
  note?: string
}
