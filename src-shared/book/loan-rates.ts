/**
 * USDA loan rates of peanuts by crop year and market type, as far as they were read: the rate of the average grade, and for
 * four years the dollars a ton for each percent of sound kernels. Held against the published table by a test. Years that
 * are not here were not found; nothing is filled in for them.
 */
export const marketTypes = ['runner', 'Spanish', 'Valencia', 'Virginia'] as const
export type MarketType = (typeof marketTypes)[number]

export interface LoanRates {
  cropYear: number
  /** [$/ton] of the average grade. */
  average: Record<MarketType, number>
  /** [$/ton for each percent of sound mature kernels and sound splits] null: not found. */
  perPercent: Record<MarketType, number> | null
  /** Where the release was read. */
  source: string
}

export const loanRates: readonly LoanRates[] = [
  {
    cropYear: 2005,
    average: { runner: 355.35, Spanish: 342.24, Valencia: 355.24, Virginia: 355.24 },
    perPercent: { runner: 4.829, Spanish: 4.805, Valencia: 5.201, Virginia: 4.926 },
    source: 'southeastfarmpress.com/usda-announces-peanut-loan-rates-2005',
  },
  {
    cropYear: 2006,
    average: { runner: 355.43, Spanish: 343.61, Valencia: 354.86, Virginia: 354.86 },
    perPercent: { runner: 4.815, Spanish: 4.791, Valencia: 5.196, Virginia: 4.911 },
    source: 'southeastfarmpress.com/usda-announces-loan-rates-2006-crop-peanuts-0',
  },
  {
    cropYear: 2014,
    average: { runner: 354.86, Spanish: 333.91, Valencia: 357.79, Virginia: 357.79 },
    perPercent: { runner: 4.819, Spanish: 4.795, Valencia: 5.346, Virginia: 4.915 },
    source: 'FSA release 2014-06-24 (copy at a public blog)',
  },
  {
    cropYear: 2016,
    average: { runner: 354.43, Spanish: 339.0, Valencia: 359.97, Virginia: 359.97 },
    perPercent: { runner: 4.81, Spanish: 4.786, Valencia: 5.44, Virginia: 4.906 },
    source: 'USDA release 2016-08-02 (ciclt.net copy)',
  },
  {
    cropYear: 2018,
    average: { runner: 354.49, Spanish: 345.84, Valencia: 359.8, Virginia: 359.8 },
    perPercent: null,
    source: 'bladenonline.com copy of USDA release',
  },
  {
    cropYear: 2019,
    average: { runner: 355.16, Spanish: 344.74, Valencia: 355.49, Virginia: 355.49 },
    perPercent: null,
    source: 'fsa.usda.gov 2019-06-27 (June; corrected in October, which was not found)',
  },
  {
    cropYear: 2020,
    average: { runner: 354.55, Spanish: 345.57, Valencia: 358.74, Virginia: 358.74 },
    perPercent: null,
    source: 'farms.com copy',
  },
  {
    cropYear: 2021,
    average: { runner: 354.89, Spanish: 343.05, Valencia: 357.7, Virginia: 357.7 },
    perPercent: null,
    source: 'sepfonline.com 2021-07-30',
  },
  {
    cropYear: 2023,
    average: { runner: 354.41, Spanish: 344.27, Valencia: 359.76, Virginia: 359.76 },
    perPercent: null,
    source: 'einpresswire.com 2023-06-01',
  },
  {
    cropYear: 2025,
    average: { runner: 353.9, Spanish: 345.47, Valencia: 362.5, Virginia: 362.5 },
    perPercent: null,
    source: 'southeastagnet.com 2025-08-04',
  },
]
