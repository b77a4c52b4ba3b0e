/** The invented season that the page is reckoned on: one field, one quote, two threats. Nothing in it is real. */
import type { Season } from '../../../src-shared/season.ts'

/** Used on the field. */
export const exampleMeasures = ['Spray schedule', 'In-furrow insecticide']

export const exampleField: Season['fields'][number] = {
  name: 'the field',
  acres: 100,
  rowSpacingIn: 36,
  rowPattern: 'single',
  water: 'irrigated',
  tillage: 'conventional',
  history: [
    { season: 2026, crop: 'cotton' },
    { season: 2025, crop: 'peanut' },
  ],
  pressure: { 'late leaf spot': 'moderate', 'spotted wilt': 'high' },
  windows: [],
  growth: 'rank',
  yieldGoalLb: 4500,
  rests: false,
}

export const exampleDealer: Season['dealers'][number] = {
  name: 'the dealer',
  orderFeeCents: 15_000,
  leastPounds: 0,
  breaks: [{ fromPounds: 10_000, offCentsPerPound: 1.5 }],
}

export const exampleQuote: Season['quotes'][number] = {
  dealer: 'the dealer',
  variety: 'the variety',
  packPounds: 50,
  packPriceCents: 4850,
  leastPacks: 0,
  breaks: [{ fromPacks: 250, packPriceCents: 4725 }],
  returnCredit: 0,
}

export const exampleSeason: Season = {
  format: 'standwell-season',
  version: 1,
  farm: { name: 'Example' },
  season: 2027,
  windows: [{ name: 'Usual', kind: 'usual', opens: '05-01', closes: '05-19' }],
  weeks: [],
  machines: [
    { name: 'digger', kind: 'digger', count: 1, widthFt: 18, speedMph: 2.5, fieldEfficiency: 0.75, hoursPerDay: 9 },
    { name: 'combine', kind: 'combine', count: 1, widthFt: 18, speedMph: 2.5, fieldEfficiency: 0.65, hoursPerDay: 8 },
  ],
  threats: [
    { name: 'late leaf spot', kind: 'leaf' },
    { name: 'spotted wilt', kind: 'virus' },
  ],
  measures: [
    {
      name: 'Spray schedule',
      group: 'fungicide',
      centsPerAcre: 7000,
      efficacy: { 'late leaf spot': 0.85 },
      isPesticide: true,
    },
    {
      name: 'In-furrow insecticide',
      group: 'in-furrow insecticide',
      centsPerAcre: 1400,
      efficacy: { 'spotted wilt': 0.35 },
      isPesticide: true,
    },
  ],
  fields: [exampleField],
  varieties: [
    {
      name: 'the variety',
      oilType: 'high oleic',
      marketType: 'runner',
      seedsPerPound: 660,
      germination: 0.85,
      vine: 'large',
      daysToMaturity: 140,
      yieldIndex: 0.98,
      gradeIndex: 1,
      ratings: { 'late leaf spot': 5, 'spotted wilt': 4 },
      isTreated: true,
    },
    {
      // Nobody offers it: it is there to be given up.
      name: 'the best variety',
      oilType: 'high oleic',
      marketType: 'runner',
      seedsPerPound: 660,
      germination: 0.85,
      vine: 'large',
      daysToMaturity: 140,
      yieldIndex: 1,
      gradeIndex: 1,
      ratings: { 'late leaf spot': 5, 'spotted wilt': 4 },
      isTreated: true,
    },
  ],
  dealers: [exampleDealer],
  quotes: [exampleQuote],
  carried: [],
  rules: [
    { rule: 'risk-weight', amount: 1, isOn: true },
    { rule: 'reserve', amount: 0.03, isOn: true },
  ],
  assumptions: [],
  locks: [],
  exclusions: [],
  contracts: [],
}
