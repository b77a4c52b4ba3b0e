/** How the parts of a review are named, on screen, on paper and in a terminal alike. */
import type { CostPart } from './bill.ts'
import type { View } from './money-rows.ts'
import type { WalkStep } from './seed-walk.ts'
import type { ReviewStage, SideMeasure } from './side-by-side.ts'

export const sideNames: Record<SideMeasure, string> = {
  acres: 'Acres',
  packs: 'Packs of seed',
  pounds: 'Pounds of seed',
  seedCents: 'Seed cost',
  tons: 'Tons',
  valueCents: 'Value of the crop',
}

export const stageNames: Record<ReviewStage, string> = {
  planned: 'Planned',
  ordered: 'Ordered',
  delivered: 'Delivered',
  planted: 'Planted',
  harvested: 'Harvested',
}

export const stepNames: Record<WalkStep, string> = {
  price: 'price',
  rate: 'rate planted',
  acreage: 'acres in all',
  mix: 'mix of varieties',
  left: 'seed left',
  returned: 'returns',
  fees: 'order fees',
  'other bills': 'bills of no lot',
}

export const partNames: Record<CostPart, string> = {
  seed: 'Seed planted',
  'seed left': 'Seed left',
  'seed returned': 'Returns, net',
  measures: 'Measures',
  replanting: 'Replanting',
  digging: 'Digging',
  combining: 'Combining',
  other: 'Other',
}

export const viewNames: Record<View, string> = { field: 'Field', variety: 'Variety', dealer: 'Dealer', lot: 'Lot' }
