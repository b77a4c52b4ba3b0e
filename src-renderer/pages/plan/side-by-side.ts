/** Plans side by side, from comparisons each with the first of them: rows that differ, a cell a plan. Pure. */
import type { Comparison, FieldDifference } from '../../../src-shared/comparison.ts'
import type { PlanTotals } from '../../../src-shared/plan.ts'

/** A plan beside the first. */
export interface Other {
  totals: PlanTotals
  comparison: Comparison
}

/** [cent] of cash without seed, and of expected loss. */
export type FieldMoney = Pick<FieldDifference, 'cashCents' | 'lossCents'>

export interface Rows {
  /** What each plan has on the field, the first plan first; and what it costs there against the first, where it differs. */
  fields: { field: string; cells: string[][]; money: (FieldMoney | null)[] }[]
  /** Quotes of which another number of packs is bought. */
  quotes: { quote: string; packs: number[] }[]
  /** True where packs of some quote cost otherwise, though as many are bought. */
  isPricedOtherwise: boolean
  dealers: { dealer: string; cents: number[] }[]
}

export function sideBySide(others: readonly Other[]): Rows {
  const names = <Each>(of: (comparison: Comparison) => readonly Each[], name: (each: Each) => string) =>
    [...new Set(others.flatMap(({ comparison }) => of(comparison).map(name)))].sort()
  /** Where one plan does not differ from the first it has what the first has, which another comparison tells. */
  const cells = <Each, Cell>(
    find: (comparison: Comparison) => Each | undefined,
    a: (each: Each) => Cell,
    b: (each: Each) => Cell,
  ) => {
    const found = others.map(({ comparison }) => find(comparison))
    const first = a(found.find((each) => each !== undefined) as Each)
    return [first, ...found.map((each) => (each === undefined ? first : b(each)))]
  }
  return {
    fields: names(
      ({ fields }) => fields,
      ({ field }) => field,
    ).map((field) => ({
      field,
      cells: cells(
        ({ fields }) => fields.find((each) => each.field === field),
        ({ a }) => a,
        ({ b }) => b,
      ),
      money: [
        null,
        ...others.map(({ comparison }) => {
          const own = comparison.fields.find((each) => each.field === field)
          return own === undefined ? null : { cashCents: own.cashCents, lossCents: own.lossCents }
        }),
      ],
    })),
    isPricedOtherwise: others.some(({ comparison }) =>
      comparison.quotes.some(({ aPacks, bPacks }) => aPacks === bPacks),
    ),
    quotes: names(
      ({ quotes }) => quotes.filter(({ aPacks, bPacks }) => aPacks !== bPacks),
      ({ quote }) => quote,
    ).map((quote) => ({
      quote,
      packs: cells(
        ({ quotes }) => quotes.find((each) => each.quote === quote),
        ({ aPacks }) => aPacks,
        ({ bPacks }) => bPacks,
      ),
    })),
    dealers: names(
      ({ dealers }) => dealers,
      ({ dealer }) => dealer,
    ).map((dealer) => ({
      dealer,
      cents: cells(
        ({ dealers }) => dealers.find((each) => each.dealer === dealer),
        ({ aCents }) => aCents,
        ({ bCents }) => bCents,
      ),
    })),
  }
}
