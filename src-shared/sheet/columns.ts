/**
 * The columns of every sheet: label, unit, kind of cell, the headings a file may have for it. The grid draws them, the
 * importer matches them, the exports are headed by them. Long because it is one table of all columns of all sheets.
 */
import { costColumns } from '../cost.ts'
import { growthLevels, pressureLevels, rowPatterns, tillages, waters } from '../field.ts'
import { loadColumns } from '../load.ts'
import { dealerColumns, quoteColumns } from '../quote.ts'
import { seenColumns } from '../seen.ts'
import { carriedColumns, vineClasses } from '../variety.ts'
import { machineColumns, windowColumns } from '../window.ts'
import { note, type Names, type SheetColumn } from './column.ts'
import { drop, history } from './compound.ts'
import { choice, dollars, names, number, percent, scaled, words, yesNo, type Kind } from './kind.ts'
import { patternWords, tillageWords, waterWords } from './other-words.ts'
import type { CellValue, SheetName } from './sheet.ts'

export type { Names, SheetColumn }

const title = (name: string) => name.charAt(0).toUpperCase() + name.slice(1)

/** A column a threat: one entry of a record of the noun. */
function perThreat(record: string, unit: string, kind: Kind, before: string) {
  return (threat: string): SheetColumn => ({
    id: `${record}/${threat}`,
    label: title(threat),
    unit,
    kind,
    heads: [`${before} ${threat}`],
  })
}

const fieldColumns = ({ threats }: Names): SheetColumn[] => [
  { id: 'name', label: 'Field', kind: words, isNeeded: true, heads: ['name', 'field name'] },
  { id: 'acres', label: 'Planted', unit: 'acres', kind: number(), isNeeded: true, heads: ['acres', 'ac', 'area'] },
  {
    id: 'rowSpacingIn',
    label: 'Rows',
    unit: 'inches',
    kind: number(),
    heads: ['row spacing', 'row spacing in', 'row width'],
  },
  { id: 'rowPattern', label: 'Pattern', kind: choice(rowPatterns, patternWords), heads: ['row pattern'] },
  { id: 'water', label: 'Water', kind: choice(waters, waterWords), isNeeded: true, heads: ['irrigation', 'irrigated'] },
  { id: 'soil', label: 'Soil', kind: words, heads: ['soil type'] },
  { id: 'tillage', label: 'Tillage', kind: choice(tillages, tillageWords) },
  { id: 'growth', label: 'Vines grow', kind: choice(growthLevels), heads: ['growth'] },
  {
    id: 'yieldGoalLb',
    label: 'Yield goal',
    unit: 'lb/acre',
    kind: number(),
    isNeeded: true,
    heads: ['yield goal', 'yield'],
  },
  {
    id: 'rests',
    label: 'Rests',
    unit: 'yes: not in the plan',
    kind: yesNo,
    heads: ['rests', 'resting', 'idle', 'not in peanut'],
  },
  {
    id: 'otherCents',
    label: 'Brings otherwise',
    unit: '$/acre',
    kind: dollars,
    heads: ['brings otherwise', 'other crop $/acre', 'rent $/acre', 'rent'],
  },
  {
    id: 'history',
    label: 'Grown before',
    unit: 'as 2026 cotton; 2025 corn',
    kind: history,
    width: 26,
    heads: ['crops', 'crop history', 'history'],
  },
  { id: 'nematodesPer100cc', label: 'Nematodes', unit: 'per 100 cc', kind: number(), heads: ['nematodes per 100 cc'] },
  {
    id: 'nematodesPer500cc',
    path: 'nematodesPer100cc',
    label: 'Nematodes',
    unit: 'per 500 cc',
    kind: scaled(5),
    heads: ['nematodes per 500 cc'],
  },
  ...threats.map(perThreat('pressure', 'pressure', choice(pressureLevels), 'pressure')),
  { id: 'windows', label: 'Can be planted', unit: 'empty: any window', kind: names, width: 16, heads: ['windows'] },
  {
    id: 'drop',
    label: 'Own drop',
    unit: 'empty: house drop',
    kind: drop,
    heads: ['drop', 'seeds per foot', 'seeding rate'],
  },
  { id: 'split/mostVarieties', label: 'Most varieties', unit: 'empty: one', kind: number(), heads: ['most varieties'] },
  { id: 'split/leastBlockAcres', label: 'Least block', unit: 'acres', kind: number(), heads: ['least block acres'] },
  { id: 'landlord', label: 'Landlord', kind: words },
  { id: 'farmNumber', label: 'Farm number', kind: words },
  { id: 'tract', label: 'Tract', kind: words },
  { id: 'place', label: 'Place', kind: words },
  note,
]

const varietyColumns = ({ threats }: Names): SheetColumn[] => [
  { id: 'name', label: 'Variety', kind: words, isNeeded: true, heads: ['name', 'variety name'] },
  { id: 'oilType', label: 'Oil', kind: choice(['high oleic', 'normal']), heads: ['oil type'] },
  {
    id: 'seedsPerPound',
    label: 'Seed count',
    unit: 'seeds/lb',
    kind: number(),
    isNeeded: true,
    heads: ['seeds per pound', 'seed count', 'seeds/lb'],
  },
  { id: 'germination', label: 'Germination', unit: '%', kind: percent, heads: ['germination', 'germ'] },
  { id: 'vine', label: 'Vine', kind: choice(vineClasses), isNeeded: true, heads: ['vine size'] },
  {
    id: 'daysToMaturity',
    label: 'Maturity',
    unit: 'days',
    kind: number(),
    isNeeded: true,
    heads: ['days to maturity', 'maturity'],
  },
  { id: 'yieldIndex', label: 'Yield', unit: 'usual = 1', kind: number(2), heads: ['yield index'] },
  {
    id: 'yieldIndexDryland',
    label: 'Yield, dryland',
    unit: 'usual = 1; empty: as Yield',
    kind: number(2),
    heads: ['yield index dryland', 'dryland yield index'],
  },
  { id: 'gradeIndex', label: 'Grade', unit: 'usual = 1', kind: number(2), heads: ['grade index'] },
  ...threats.map(perThreat('ratings', '1 hardy, 9 prone', number(), 'rating')),
  { id: 'isTreated', label: 'Treated', kind: yesNo },
  note,
]

const measureColumns = ({ threats }: Names): SheetColumn[] => [
  { id: 'name', label: 'Measure', kind: words, isNeeded: true, heads: ['name'] },
  { id: 'group', label: 'Group', kind: words, isNeeded: true },
  // A rate, so it may have a fraction of a cent.
  { id: 'centsPerAcre', label: 'Cost', unit: '$/acre', kind: scaled(0.01), isNeeded: true, heads: ['cost $/acre'] },
  ...threats.map((threat): SheetColumn => ({
    id: `efficacy/${threat}`,
    label: title(threat),
    unit: '% of loss stopped',
    kind: percent,
    heads: [`stops ${threat} %`, `stops ${threat}`],
  })),
  { id: 'gainLb', label: 'Yield gain', unit: 'lb/acre', kind: number(), heads: ['yield gain lb/acre', 'yield gain'] },
  {
    id: 'gainNewLb',
    label: 'Gain on new ground',
    unit: 'lb/acre; empty: the same',
    kind: number(),
    heads: ['gain on new ground lb/acre', 'gain on new ground'],
  },
  { id: 'isPesticide', label: 'Pesticide', kind: yesNo },
  { id: 'source', label: 'Source', kind: words, width: 30 },
  { id: 'fromLabel', label: 'From the label', kind: words, width: 30 },
]

const threatColumns: SheetColumn[] = [
  { id: 'name', label: 'Threat', kind: words, isNeeded: true, heads: ['name'] },
  {
    id: 'kind',
    label: 'Lives in',
    kind: choice(['leaf', 'soil', 'virus', 'nematode', 'other']),
    isNeeded: true,
    heads: ['kind'],
  },
  note,
]

const ruleColumns: SheetColumn[] = [
  { id: 'rule', label: 'Rule', kind: words, isNeeded: true },
  { id: 'subject', label: 'About', kind: words },
  { id: 'amount', label: 'Amount', kind: number() },
  { id: 'isOn', label: 'On', kind: yesNo },
  note,
]

const all: Record<SheetName, (names: Names) => SheetColumn[]> = {
  field: fieldColumns,
  variety: varietyColumns,
  dealer: dealerColumns,
  quote: quoteColumns,
  carried: carriedColumns,
  window: windowColumns,
  machine: machineColumns,
  measure: measureColumns,
  threat: () => threatColumns,
  rule: () => ruleColumns,
  load: loadColumns,
  seen: seenColumns,
  cost: costColumns,
}

/** @param names of the farm's own, which some sheets have a column of each of */
export function columnsOf(sheet: SheetName, names: Names): SheetColumn[] {
  return all[sheet](names)
}

/**
 * Paths that tell one row of a sheet from another: two rows that agree in all of them are the same. Of a load its ticket
 * goes before: `same-row.ts`.
 */
export const keyPaths: Record<SheetName, readonly string[]> = {
  field: ['name'],
  variety: ['name'],
  dealer: ['name'],
  quote: ['dealer', 'variety', 'name'],
  carried: ['variety', 'lot'],
  window: ['name'],
  machine: ['name'],
  measure: ['name'],
  threat: ['name'],
  rule: ['rule', 'subject'],
  load: ['field', 'hauledOn', 'grossPounds', 'tarePounds'],
  seen: ['field', 'threat', 'seenOn'],
  cost: ['kind', 'says', 'field', 'dealer', 'spentOn'],
}

/** Where the column's value stands in a row, as `acres` or `ratings/spotted wilt`. */
export function pathOf(column: SheetColumn): string {
  return column.path ?? column.id
}

/** What a row has at a path; null where there is nothing. */
export function valueAt(row: object, path: string): CellValue {
  const slash = path.indexOf('/')
  const own = (thing: unknown, key: string): unknown =>
    typeof thing === 'object' && thing !== null && Object.hasOwn(thing, key) ? (thing as never)[key] : null
  const value = slash < 0 ? own(row, path) : own(own(row, path.slice(0, slash)), path.slice(slash + 1))
  return (value ?? null) as CellValue
}
