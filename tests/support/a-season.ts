/** A small season that can be planned, as a file would hold it; tests change what they are about. */
import { readSeason, type Season } from '../../src-shared/season.ts'

export interface SeasonFile extends Record<string, unknown> {
  fields: Record<string, unknown>[]
  varieties: Record<string, unknown>[]
  dealers: Record<string, unknown>[]
  quotes: Record<string, unknown>[]
}

export function seasonFile(): SeasonFile {
  return {
    format: 'standwell-season',
    version: 1,
    farm: { name: 'Test Farm' },
    season: 2027,
    windows: [{ name: 'Usual', kind: 'usual', opens: '05-01', closes: '05-20' }],
    threats: [{ name: 'late leaf spot', kind: 'leaf' }],
    fields: [
      { name: 'Home', acres: 40, rowSpacingIn: 36, rowPattern: 'single', water: 'dryland', yieldGoalLb: 3500 },
      {
        name: 'Creek',
        acres: 60.5,
        rowSpacingIn: 36,
        rowPattern: 'twin',
        water: 'irrigated',
        yieldGoalLb: 5000,
        pressure: { 'late leaf spot': 'high' },
      },
    ],
    varieties: [
      { name: 'Big', seedsPerPound: 560, vine: 'large', daysToMaturity: 145, ratings: { 'late leaf spot': 3 } },
      { name: 'Small', seedsPerPound: 720, vine: 'medium', daysToMaturity: 138, ratings: { 'late leaf spot': 6 } },
    ],
    dealers: [{ name: 'North' }],
    quotes: [
      { dealer: 'North', variety: 'Big', packPounds: 50, packPriceCents: 4600 },
      { dealer: 'North', variety: 'Small', packPounds: 50, packPriceCents: 4700 },
    ],
  }
}

export function aSeason(): Season {
  const season = readSeason(seasonFile(), 'a-season')
  if (!season.ok) throw new Error(JSON.stringify(season.problems))
  return season.value
}
