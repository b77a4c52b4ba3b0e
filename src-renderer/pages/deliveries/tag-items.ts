/** The items of a tag in the order of its paper: how each is named, typed and read, and which checks stand beside it. */
import { readNumber, readPercent, readYesNo, type Reading } from '../../../src-shared/read-text.ts'
import type { TagItem } from '../../../src-shared/agronomy/tag-checks.ts'
import { seedClasses, type Tag } from '../../../src-shared/tag.ts'
import { optionalNumber, optionalWords, readOptional, typedNumber } from '../../ui/readings.ts'

export interface Item {
  item: keyof Tag
  label: string
  unit?: string
  kind: 'words' | 'percent' | 'number' | 'month' | 'yes' | 'class'
  /** Checks shown beside it, its own among them. */
  checks: readonly TagItem[]
}

export const items: readonly Item[] = [
  { item: 'kind', label: 'Kind', kind: 'words', checks: ['kind'] },
  { item: 'variety', label: 'Variety', kind: 'words', checks: ['variety'] },
  { item: 'lotNumber', label: 'Lot number', kind: 'words', checks: ['lotNumber'] },
  { item: 'origin', label: 'Origin', kind: 'words', checks: ['origin'] },
  { item: 'seedClass', label: 'Class', kind: 'class', checks: ['seedClass'] },
  { item: 'pureSeed', label: 'Pure seed', unit: '%', kind: 'percent', checks: ['pureSeed', 'sum'] },
  { item: 'otherCrop', label: 'Other crop seed', unit: '%', kind: 'percent', checks: ['otherCrop'] },
  { item: 'inert', label: 'Inert matter', unit: '%', kind: 'percent', checks: ['inert'] },
  { item: 'weedSeed', label: 'Weed seed', unit: '%', kind: 'percent', checks: ['weedSeed'] },
  { item: 'noxiousKinds', label: 'Noxious weeds, kinds', kind: 'words', checks: ['noxiousKinds'] },
  {
    item: 'noxiousPerPound',
    label: 'Noxious weeds, rate',
    unit: 'seeds/lb',
    kind: 'number',
    checks: ['noxiousPerPound'],
  },
  { item: 'noxiousFound', label: 'Found in own sample', unit: 'seeds', kind: 'number', checks: ['noxiousFound'] },
  { item: 'noxiousSamplePounds', label: 'Weight of that sample', unit: 'lb', kind: 'number', checks: [] },
  { item: 'germination', label: 'Germination', unit: '%', kind: 'percent', checks: ['germination'] },
  { item: 'hardSeed', label: 'Hard seed', unit: '%', kind: 'percent', checks: ['hardSeed'] },
  { item: 'testedIn', label: 'Tested in', unit: 'as 2027-01', kind: 'month', checks: ['testedIn'] },
  { item: 'isHermetic', label: 'Sealed against moisture', kind: 'yes', checks: ['isHermetic'] },
  { item: 'isTreated', label: 'Treated', kind: 'yes', checks: ['isTreated'] },
  { item: 'treatment', label: 'Treated with', kind: 'words', checks: ['treatment'] },
  { item: 'caution', label: 'Caution on the tag', kind: 'words', checks: ['caution'] },
  { item: 'shipper', label: 'Shipper, name and address', kind: 'words', checks: ['shipper'] },
  { item: 'seedsPerPound', label: 'Seeds a pound', kind: 'number', checks: ['seedsPerPound'] },
  { item: 'netPounds', label: 'Net weight of a pack', unit: 'lb', kind: 'number', checks: ['netPounds'] },
]

/** An item as it would be typed. */
export function itemText({ item, kind }: Item, tag: Tag): string {
  const value = tag[item]
  if (value === null) return ''
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'number') return typedNumber(kind === 'percent' ? value * 100 : value)
  return value
}

/** What was typed, as the tag keeps it. */
export function readItem({ item, kind }: Item, text: string): Reading<unknown> {
  if (item === 'kind') return { ok: true, value: text.trim() === '' ? 'Peanut' : text.trim() }
  if (kind === 'yes') return readYesNo(text === '' ? 'no' : text)
  if (kind === 'number') return optionalNumber(text)
  if (kind === 'class') {
    const value = seedClasses.find((each) => each === text) ?? null
    return { ok: true, value }
  }
  if (kind !== 'percent') return optionalWords(text)
  const reading = readOptional(text, readPercent)
  const number = readNumber(text)
  if (number.ok && (number.value < 0 || number.value > 100)) {
    return { ok: false, what: `${text.trim()} is not from 0 to 100 %` }
  }
  if (item === 'germination' || item === 'pureSeed') {
    const tiny = shareOfOne(text)
    if (tiny !== null) return tiny
  }
  return reading.ok && reading.value !== null ? { ok: true, value: Number(reading.value.toFixed(8)) } : reading
}

/** "0.85" in a box of percent: refused with what was meant. Null where it is none. */
export function shareOfOne(text: string): { ok: false; what: string } | null {
  const number = readNumber(text)
  if (!number.ok || number.value <= 0 || number.value >= 1) return null
  const meant = Number((number.value * 100).toFixed(6))
  return { ok: false, what: `${text.trim()} is less than 1 %: enter ${meant} for ${meant} %` }
}
