/** Why a row of a file is refused, cell by cell, as it is shown and as it is saved. Pure. */
import type { RowFate } from '../../src-shared/sheet/bring-in.ts'

export function whyRefused({ problems }: RowFate, headers: readonly string[]): string {
  return problems
    .map(({ column, what, remedy }) => `${column < 0 ? '' : `${headers[column]}: `}${what} ${remedy}`)
    .join(' ')
}
