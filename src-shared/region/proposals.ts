/**
 * What a new farm of a region may begin with: planting windows, days fit for work by week, machines by their rows, spray programs, the price and
 * usual rules. Proposals only, each with how it is known; nothing is taken that was not accepted. Pure.
 */
import type { SheetName } from '../sheet/sheet.ts'
import regions from './regions.json' with { type: 'json' }

export interface Region {
  name: string
  windows: { kind: string; opens: string; closes: string }[]
  /** [day] fit for field work by week, as [Monday of 2019, bad, usual, good year]: T22. */
  weeks: Record<'planting' | 'harvest', [monday: string, bad: number, usual: number, good: number][]>
  /** [day] fit for work while the middle of the crop is harvested: in a bad, a usual and a good year. */
  harvest: { bad: number; usual: number; good: number }
  /** Years behind the days. */
  years: number
  /** Sprays of a usual program; null: none was found published. */
  sprays: number | null
}

export const allRegions = regions as unknown as readonly Region[]

/** Rows that machines are sold with. */
export const machineRows = [4, 6, 8, 12] as const

export interface Proposal {
  key: string
  group: 'Planting windows' | 'Workable days' | 'Machines' | 'Spray programs' | 'Price' | 'Rules'
  /** What it is, in a few words. */
  title: string
  /** Its one number that a farm most likely changes, with its unit. */
  amount: { path: string; value: number; unit: string; low?: number; high?: number } | null
  /** How it is known. */
  source: string
  /** Where it goes: a row of a sheet, several, or a row of the assumptions. */
  to:
    | { sheet: SheetName; values: Record<string, unknown> }
    | { sheet: SheetName; rows: Record<string, unknown>[] }
    | { book: string }
}

const days = 'USDA NASS crop progress and days suitable for field work'

/** [ft] of a row 36 inches wide. */
const rowFeet = 3

/** [acre/day] published for machines of 4 and 6 rows: T16 and T29, NC State Extension. */
const published = { digger: { 4: 30, 6: 40 }, combine: { 4: 15, 6: 20 } } as const

/** [mph] at which ten hours with this width and efficiency make the published acres. Acres an hour = width ft × mph ÷ 8.25. */
function speedFor(acresADay: number, widthFt: number, efficiency: number): number {
  return Math.round(((acresADay / 10) * 8.25 * 10) / (widthFt * efficiency)) / 10
}

function machines(rows: number): Proposal[] {
  const harvestRows = rows >= 6 ? 6 : 4
  const diggerFt = harvestRows * rowFeet
  const of = (
    title: string,
    kind: string,
    widthFt: number,
    speedMph: number,
    fieldEfficiency: number,
    source: string,
  ): Proposal => ({
    key: `machine/${kind}`,
    group: 'Machines',
    title,
    amount: { path: 'count', value: 1, unit: 'machines' },
    source,
    to: {
      sheet: 'machine',
      values: {
        name: title,
        kind,
        count: 1,
        rows: Math.round(widthFt / rowFeet),
        widthFt,
        speedMph,
        fieldEfficiency,
        hoursPerDay: 10,
      },
    },
  })
  const at = `Speed set so that 10 hours make the published`
  return [
    of(
      `${rows}-row planter`,
      'planter',
      rows * rowFeet,
      3.5,
      0.65,
      'Speed and efficiency: common practice, no source. Rows of 36 inches.',
    ),
    of(
      `${harvestRows}-row digger`,
      'digger',
      diggerFt,
      speedFor(published.digger[harvestRows], diggerFt, 0.75),
      0.75,
      `${at} ${published.digger[harvestRows]} acres a day (NC State Extension 2014, an ideal day).`,
    ),
    of(
      `${harvestRows}-row combine`,
      'combine',
      diggerFt,
      speedFor(published.combine[harvestRows], diggerFt, 0.65),
      0.65,
      `${at} ${published.combine[harvestRows]} acres a day (NC State Extension 2017, pull-type, an ideal day).`,
    ),
  ]
}

function sprays({ name, sprays: count }: Region): Proposal[] {
  if (count === null) return []
  const known =
    name === 'North Carolina' || name === 'South Carolina'
      ? '5 sprays from R3 to early September (Southeast Farm Press 2013, quoting NC State)'
      : '7 sprays on average before risk-based programs (Southeast Farm Press, quoting UGA)'
  const of = (title: string, number: number, leaf: number, rot: number, source: string): Proposal => ({
    key: `measure/${number}`,
    group: 'Spray programs',
    title,
    amount: { path: 'centsPerAcre', value: number * 15, unit: '$/acre', low: number * 10, high: number * 20 },
    source: `${source} $15 a spray and what it stops: our estimate, not published.`,
    to: {
      sheet: 'measure',
      values: {
        name: title,
        group: 'fungicide',
        centsPerAcre: number * 1500,
        isPesticide: true,
        source: source.slice(0, 300),
        efficacy: { 'early leaf spot': leaf, 'late leaf spot': leaf, 'southern stem rot': rot },
      },
    },
  })
  return [
    of(`Full spray program (${count} sprays)`, count, 0.9, 0.65, `${known}.`),
    of(
      `Reduced spray program (${count - 2} sprays)`,
      count - 2,
      0.8,
      0.5,
      'Fewer sprays cost no yield in 13 of 14 Georgia trials (T26); each one left out saved $5–7 an acre (Southeast Farm Press 2013, quoting Auburn).',
    ),
  ]
}

function rules(region: Region): Proposal[] {
  const of = (rule: string, title: string, source: string, amount?: number, unit = '', subject?: string): Proposal => ({
    key: `rule/${rule}`,
    group: 'Rules',
    title,
    amount: amount === undefined ? null : { path: 'amount', value: amount, unit },
    source,
    to: {
      sheet: 'rule',
      values: {
        rule,
        ...(subject === undefined ? {} : { subject }),
        ...(amount === undefined ? {} : { amount }),
        isOn: true,
      },
    },
  })
  const practice = 'Common practice, no source.'
  return [
    of('choose-rate', 'Let the plan choose the seeding rate', practice),
    of('planter-hours', 'Plant no more than the planter can', practice),
    of('digger-hours', 'Dig no more than the digger can', practice),
    of('combine-hours', 'Combine no more than the combine can', practice),
    of(
      'nematode-threshold',
      'Resistant variety from this nematode count',
      'Root-knot takes 10 % at 9–17 per 100 cc at planting (published; see assumptions).',
      10,
      'per 100 cc',
    ),
    ...(region.sprays === null
      ? []
      : [of('always-measure', 'Always spray for leaf spot', practice, undefined, '', 'fungicide')]),
  ]
}

/** Days fit for work, week by week: one proposal for planting and one for the harvest, each of many rows. */
function weeksOf({ name, weeks, harvest }: Region, few: string): Proposal[] {
  const of = (part: 'planting' | 'harvest', title: string, says: string, columns: readonly string[]): Proposal => ({
    key: `weeks/${part}`,
    group: 'Workable days',
    title,
    amount: null,
    source: `${days}, ${name}: ${says}${few}`,
    to: {
      sheet: 'week',
      rows: weeks[part].map(([starts, , usual]) => ({
        starts,
        ...Object.fromEntries(columns.map((column) => [column, usual])),
      })),
    },
  })
  const range = (all: Region['weeks']['planting']) => {
    const usual = all.map((week) => week[2])
    return `${Math.min(...usual)} to ${Math.max(...usual)} days a week`
  }
  return [
    of('planting', 'Days fit for planting, by week', `${range(weeks.planting)} in a usual year.`, ['plantingDays']),
    of(
      'harvest',
      'Days fit for digging and combining, by week',
      `${range(weeks.harvest)} in a usual year; in the middle of the harvest ${harvest.bad} days in a bad year, ${harvest.usual} usual, ${harvest.good} good. For any field work, so an upper limit: digging wants drier ground.`,
      ['diggingDays', 'combiningDays'],
    ),
  ]
}

/** @param rows of the planter */
export function proposalsFor(region: Region, rows: number): Proposal[] {
  const title = (kind: string) => `${kind.charAt(0).toUpperCase()}${kind.slice(1)}`
  const parts = {
    early: 'from 2 % to 15 % planted',
    usual: 'from 15 % to 85 % planted',
    late: 'from 85 % to 97 % planted',
  } as const
  const few = region.years < 10 ? ` Only ${region.years} years.` : ''
  const windows = region.windows.map(({ kind, opens, closes }): Proposal => ({
    key: `window/${kind}`,
    group: 'Planting windows',
    title: `${title(kind)} planting`,
    amount: null,
    source: `${days}, ${region.name}: ${parts[kind as keyof typeof parts]} in a usual year.${few}`,
    to: { sheet: 'window', values: { name: title(kind), kind, opens, closes } },
  }))
  return [
    ...windows,
    ...weeksOf(region, few),
    ...machines(rows),
    ...sprays(region),
    {
      key: 'price',
      group: 'Price',
      title: 'Price of your peanuts',
      amount: { path: 'value', value: 500, unit: '$/ton', low: 353.9, high: 630 },
      source:
        'A first contract offer of 2025 (UF/IFAS Extension); loan rate of 2025 to reference price. Enter your own contract.',
      to: { book: 'price/peanuts' },
    },
    ...rules(region),
  ]
}
