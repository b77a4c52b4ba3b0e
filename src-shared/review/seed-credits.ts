/** Money back for returned seed, given to the lots that went back. */
import { line, term } from '../agronomy/working.ts'
import { standing, type OrderLine } from '../order.ts'
import { billOf, nowhere, plainLine, type Bill, type Place } from './bill.ts'
import { entryCents } from './entry-cents.ts'
import { ownSeed, type Ground } from './ground.ts'
import type { LotSeed } from './lot-seed.ts'
import type { ReviewInput } from './review-input.ts'

/** [cent/lb] as the line stands. */
export function perPound(own: OrderLine): number {
  return standing(own).packPriceCents / own.packPounds
}

/** What was given for returns: as it was written down, else by the terms of the line. Money back is below 0. */
export function creditsOf(
  record: ReviewInput,
  lots: readonly LotSeed[],
  ground: Ground,
): { bills: Bill[]; looseCents: number } {
  const entries = record.costs.filter(({ kind }) => kind === 'return credit')
  const returned = lots.filter(({ returnedPounds }) => returnedPounds > 0)
  const bills: Bill[] = []
  let looseCents = 0
  const give = (bill: Pick<Bill, 'says' | 'cents' | 'from' | 'lines'>, own: readonly LotSeed[], at: Place) => {
    const places = own.map(({ lot, returnedPounds }) => ({
      ...nowhere,
      variety: lot.variety,
      lotId: lot.id,
      dealer: lot.dealer ?? ownSeed,
      weight: returnedPounds,
    }))
    const given = billOf({ ...bill, part: 'seed returned', sharedBy: 'pounds' }, places, at)
    bills.push(given)
    own.forEach((seed, index) => (seed.creditCents -= given.posts[index]?.cents ?? 0))
    if (own.length === 0) looseCents += given.cents
  }
  for (const entry of entries) {
    const own = returned.filter(({ lot }) => entry.dealer === undefined || lot.dealer === entry.dealer)
    const cents = -entryCents(entry, ground.acres)
    const lines = [plainLine(`entry/${entry.id}`, entry.says, cents, 'Given back by the dealer.')]
    give({ says: entry.says, cents, from: 'written down', lines }, own, { ...nowhere, dealer: entry.dealer ?? null })
  }
  if (entries.some(({ dealer }) => dealer === undefined)) return { bills, looseCents }
  for (const seed of returned) {
    const { lot, returnedPounds } = seed
    const own = record.orders.flatMap(({ lines }) => lines).find(({ id }) => id === lot.orderLineId)
    if (own === undefined || entries.some(({ dealer }) => dealer === lot.dealer)) continue
    const cents = -Math.round(returnedPounds * perPound(own) * own.terms.returnCredit)
    if (cents === 0) continue
    const says = `Credit for lot ${lot.name}`
    const working = line({
      id: `credit/${lot.id}`,
      label: `${says} by the terms`,
      value: cents / 100,
      unit: '$',
      rule: 'product',
      terms: [
        term('money back counts against the cost', -1, ''),
        term('returned', returnedPounds, 'lb'),
        term('price', perPound(own) / 100, '$/lb'),
        term('credit', own.terms.returnCredit, 'share'),
      ],
    })
    give({ says, cents, from: 'the terms', lines: [working] }, [seed], nowhere)
  }
  return { bills, looseCents }
}
