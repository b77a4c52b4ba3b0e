/** The curve from missing leaves to lost yield, as the assumptions have it. Source: T12, T26; the rows `canopy/…`. */
import { rangeOf, type Book } from '../assumption.ts'
import type { CanopyCurve } from './threat.ts'

export function readCanopy(book: Book): CanopyCurve {
  return {
    from: rangeOf(book.row('canopy/loss begins at')),
    most: rangeOf(book.row('canopy/most loss')),
    bend: Math.max(1, book.number('canopy/bend')),
  }
}
