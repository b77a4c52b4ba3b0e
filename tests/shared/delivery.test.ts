/** How a line of an order stands once seed came, in words, and what the scale says beside the lots. */
import { expect, it, test } from 'vitest'
import { receiptWords, scaleDifference, type DeliveryRow, type LineReceipt } from '../../src-shared/delivery.ts'
import { lineReceipt } from '../support/line-receipt.ts'

const notComing = { says: 'not coming', expectedOn: null, note: null } as const
const later = { says: 'later', expectedOn: '2027-04-20', note: null } as const

test.each<[Partial<LineReceipt>, string]>([
  [{}, 'all here'],
  [{ packs: 0, pounds: 0, camePounds: 0 }, 'nothing agreed'],
  [{ camePounds: 20_050, overPounds: 50 }, 'over'],
  [{ camePounds: 0, owedPounds: 20_000 }, 'not here yet'],
  [{ camePounds: 300, owedPounds: 19_700 }, 'short'],
  [{ camePounds: 300, owedPounds: 19_700, promise: later }, 'short'],
  [{ camePounds: 300, promise: notComing }, 'will not come'],
  // What was said not to come and came after all, but for the scale's last digit.
  [{ camePounds: 19_999.8, promise: notComing }, 'all here'],
])('%o is %s', (change, words) => {
  expect(receiptWords(lineReceipt(change))).toBe(words)
})

it('the scale is held against the lots of its load, and says nothing where it was not asked', () => {
  const load = (scalePounds: number | null) => ({ scalePounds, lots: [{ pounds: 900 }, { pounds: 80 }] }) as DeliveryRow
  expect(scaleDifference(load(1000))).toBe(20)
  expect(scaleDifference(load(960))).toBe(-20)
  expect(scaleDifference(load(null))).toBeNull()
})
