/** The mark that a germination earns. It warns; it changes no rate and no cost. */
import type { Book } from '../assumption.ts'

export type GerminationMark = 'good' | 'weak' | 'very weak'

/**
 * @param germination [share] 0–1 of a variety's expectation, a tag or a test
 * @returns by the book's rows `germination/…`: 0.80 is good, 0.79 weak, 0.74 very weak
 */
export function germinationMark(book: Book, germination: number): GerminationMark {
  if (germination < book.number('germination/strong warning below')) return 'very weak'
  return germination < book.number('germination/warn below') ? 'weak' : 'good'
}
