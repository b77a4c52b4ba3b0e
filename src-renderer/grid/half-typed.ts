/** What stands in a grid and is not in the farm: a cell being typed, rows begun, values not taken. Plain, so that it can be kept. */
import type { Begun } from './lines.ts'
import type { Refused } from './refused.ts'

export interface HalfTyped {
  editing: { key: number; column: string; text: string } | null
  begun: [key: number, row: Begun][]
  refused: [address: string, refused: Refused][]
}

export const isEmpty = ({ editing, begun, refused }: HalfTyped): boolean =>
  editing === null && begun.length === 0 && refused.length === 0
