/** A row of the book: a value of the farm's own beyond the default's range has the usual range beside it, and stays. */
import { render, screen } from '@testing-library/svelte'
import { beforeEach, expect, test } from 'vitest'
import type { Transport } from '../../../../src-shared/api.ts'
import { ledgerOf, setAssumption, type LedgerRow } from '../../../../src-shared/book/ledger.ts'
import BookRow from '../../../../src-renderer/pages/rules/BookRow.svelte'
import { useTransport } from '../../../../src-renderer/engine/call.ts'
import { demoFarm } from '../../../shared/demo-farm.ts'

beforeEach(() => {
  useTransport({
    call: async () => ({ ok: true, value: null }),
    listen: () => () => undefined,
  } as unknown as Transport)
})

function priceAt(value: number): LedgerRow {
  const season = setAssumption(demoFarm(), 'price/peanuts', { value })
  if (!season.ok) throw new Error(season.problems[0]?.what)
  return ledgerOf(season.value)
    .flatMap(({ rows }) => rows)
    .find(({ key }) => key === 'price/peanuts')!
}

// The range is that of the row: the loan rate of 2025 to the reference price, see its source.
test.each([
  [52, 'usually 353.9 to 630'],
  [5250, 'usually 353.9 to 630'],
  [353.9, null],
  [520, null],
  [630, null],
])('a price of %f $/ton: %s', (value, says) => {
  render(BookRow, { row: priceAt(value) })
  expect(screen.queryByText(/^usually/)?.textContent ?? null).toBe(says)
})
