/** A line of an order of which all came: 400 packs of 50 lb at $50, taken back for nine tenths; tests change what they are about. */
import type { LineReceipt } from '../../src-shared/delivery.ts'

export function lineReceipt(change: Partial<LineReceipt> = {}): LineReceipt {
  return {
    lineId: 7,
    quote: 'North · Amber',
    variety: 'Amber',
    varietyId: 1,
    state: 'confirmed',
    packPounds: 50,
    packs: 400,
    pounds: 20_000,
    packPriceCents: 5000,
    returnCredit: 0.9,
    camePounds: 20_000,
    refusedPounds: 0,
    otherPounds: 0,
    returnedPounds: 0,
    owedPounds: 0,
    unsentPounds: 0,
    overPounds: 0,
    promise: null,
    creditCents: 0,
    ...change,
  }
}
