/** The stages of the year in their order: the rail, the headings and the addresses all come from here. */
import type { SeasonOfYear } from '../../src-shared/crop-year.ts'

export interface Stage {
  id: string
  season: SeasonOfYear
  label: string
  /** What the page is for, one sentence. */
  purpose: string
}

export const stages = [
  {
    id: 'fields',
    season: 'winter',
    label: 'Fields',
    purpose: 'The ground to be planted: acres, rows, water, what grew there and what trouble it has shown.',
  },
  {
    id: 'varieties',
    season: 'winter',
    label: 'Varieties',
    purpose: 'What each variety is: seed count, germination, vine, days to maturity, yield and what it resists.',
  },
  {
    id: 'quotes',
    season: 'winter',
    label: 'Quotes',
    purpose: 'What each dealer asks for a pack, from how many packs it gets cheaper, and until when.',
  },
  {
    id: 'rules',
    season: 'winter',
    label: 'House rules',
    purpose: 'What the farm will not do, and what everything is taken to cost or to lose.',
  },
  {
    id: 'plan',
    season: 'winter',
    label: 'Plan',
    purpose: 'Which variety on which field, and how many bags from which dealer, at the least cost that can be proven.',
  },
  {
    id: 'orders',
    season: 'winter',
    label: 'Orders',
    purpose:
      'One sheet for each dealer: sent, answered line by line, printed, and planned around when seed is refused.',
  },
  {
    id: 'calendar',
    season: 'winter',
    label: 'Calendar',
    purpose: 'When each field is planted and dug, week by week, and what your machines can do.',
  },
  {
    id: 'deliveries',
    season: 'spring',
    label: 'Deliveries',
    purpose: 'What came, checked against what was ordered and against its tags.',
  },
  {
    id: 'rates',
    season: 'spring',
    label: 'Rates and lots',
    purpose: 'Planter settings from the lots that really came, and which lot goes to which field.',
  },
  {
    id: 'planting',
    season: 'spring',
    label: 'Planting',
    purpose: 'What went in where, when and from which lot, and the stand three weeks later.',
  },
  {
    id: 'harvest',
    season: 'fall',
    label: 'Harvest',
    purpose: 'Loads with their weights, grades and prices, the trouble that was seen, and what was spent otherwise.',
  },
  {
    id: 'review',
    season: 'fall',
    label: 'Season review',
    purpose: 'What was planned, bought, planted and harvested, and what each acre and ton came to.',
  },
  {
    id: 'next',
    season: 'fall',
    label: 'Next season',
    purpose: 'The next season begun from this one, the seasons side by side, and this one written out as a file.',
  },
] as const satisfies readonly Stage[]

export type StageId = (typeof stages)[number]['id']

/** Not of the year, and not in the rail: at the top line. This one needs no farm, so the first page leads to it too. */
export const methodPage = {
  id: 'method',
  label: 'Method and words',
  purpose: 'How a plan is made, what is counted and how it is proven; and what the words mean.',
} as const

/** The farm as a file, at the top line as well. */
export const filePage = {
  id: 'file',
  label: 'Farm file',
  purpose: 'Where everything of the farm is kept: copies of it, its backups, and going back to one.',
} as const

export const topPages = [methodPage, filePage] as const

export type PageId = StageId | (typeof topPages)[number]['id']

export const seasonsOfYear: readonly SeasonOfYear[] = ['winter', 'spring', 'fall']

export function stageOf(id: PageId): Pick<Stage, 'label' | 'purpose'> {
  return [...topPages, ...stages].find((page) => page.id === id) ?? stages[0]
}
