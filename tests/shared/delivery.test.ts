/** How a line of an order stands once seed came, in words, and what the scale says beside the lots. */
import { expect, it, test } from 'vitest'
import { receiptWords, scaleDifference, type DeliveryRow, type LineReceipt } from '../../src-shared/delivery.ts'

/** 10 packs of 50 lb agreed. */
function line(change: Partial<LineReceipt>): LineReceipt {
  return {
    lineId: 1,
    quote: 'North · Amber',
    variety: 'Amber',
    varietyId: 1,
    state: 'confirmed',
    packPounds: 50,
    packs: 10,
    pounds: 500,
    packPriceCents: 5000,
    returnCredit: 0,
    camePounds: 500,
    refusedPounds: 0,
    otherPounds: 0,
    returnedPounds: 0,
    owedPounds: 0,
    overPounds: 0,
    promise: null,
    creditCents: 0,
    ...change,
  }
}

const notComing = { says: 'not coming', expectedOn: null, note: null } as const
const later = { says: 'later', expectedOn: '2027-04-20', note: null } as const

test.each<[Partial<LineReceipt>, string]>([
  [{}, 'all here'],
  [{ packs: 0, pounds: 0, camePounds: 0 }, 'nothing agreed'],
  [{ camePounds: 550, overPounds: 50 }, 'over'],
  [{ camePounds: 0, owedPounds: 500 }, 'not here yet'],
  [{ camePounds: 300, owedPounds: 200 }, 'short'],
  [{ camePounds: 300, owedPounds: 200, promise: later }, 'short'],
  [{ camePounds: 300, promise: notComing }, 'will not come'],
  // What was said not to come and came after all, but for the scale's last digit.
  [{ camePounds: 499.8, promise: notComing }, 'all here'],
])('%o is %s', (change, words) => {
  expect(receiptWords(line(change))).toBe(words)
})

it('the scale is held against the lots of its load, and says nothing where it was not asked', () => {
  const load = (scalePounds: number | null) => ({ scalePounds, lots: [{ pounds: 900 }, { pounds: 80 }] }) as DeliveryRow
  expect(scaleDifference(load(1000))).toBe(20)
  expect(scaleDifference(load(960))).toBe(-20)
  expect(scaleDifference(load(null))).toBeNull()
})
