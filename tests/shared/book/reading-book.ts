/** A book that remembers which of its rows were read, and which were asked for that it does not have. */
import { Book, type Assumption } from '../../../src-shared/assumption.ts'

export class ReadingBook extends Book {
  readonly read = new Set<string>()

  override row(key: string): Assumption {
    this.read.add(key)
    return super.row(key)
  }
}
