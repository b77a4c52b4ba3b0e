/** A book that remembers which of its rows were read, and which were asked for that it does not have. */
import { Book, type Assumption } from '../../../src-shared/assumption.ts'

export class ReadingBook extends Book {
  readonly read = new Set<string>()
  readonly missing = new Set<string>()

  /** A row that is not there is noted and read as 1, so that the reading goes on and every one is found. */
  override row(key: string): Assumption {
    this.read.add(key)
    const row = this.rows.get(key)
    if (row !== undefined) return row
    this.missing.add(key)
    return { key, value: 1, unit: '', source: '', sourceKind: 'our estimate' }
  }
}
