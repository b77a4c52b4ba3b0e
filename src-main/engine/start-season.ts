/** What a new farm begins with: the diseases, sprays, rules and windows usual in the region, and no fields. */
import type { Season } from '../../src-shared/season.ts'
import { seasonVersion } from '../../src-shared/season.ts'
import { usualPractices, usualRules } from '../../src-shared/book/start-practices.ts'

export function startSeason(name: string, season: number): Season {
  return {
    format: 'standwell-season',
    version: seasonVersion,
    farm: { name },
    season,
    // Dates are a first proposal for the south-east; the farm's own take their place.
    windows: [
      { name: 'Early', kind: 'early', opens: '04-10', closes: '04-30' },
      { name: 'Usual', kind: 'usual', opens: '05-01', closes: '05-20' },
      { name: 'Late', kind: 'late', opens: '05-21', closes: '06-10' },
    ],
    weeks: [],
    machines: [],
    contracts: [],
    threats: [
      { name: 'early leaf spot', kind: 'leaf' },
      { name: 'late leaf spot', kind: 'leaf' },
      { name: 'southern stem rot', kind: 'soil' },
      { name: 'spotted wilt', kind: 'virus' },
      { name: 'root-knot nematode', kind: 'nematode' },
    ],
    measures: [...usualPractices],
    fields: [],
    varieties: [],
    dealers: [],
    quotes: [],
    carried: [],
    rules: [...usualRules],
    // The book of src-shared is underneath; only what the farm changes stands in its file.
    assumptions: [],
    locks: [],
    exclusions: [],
  }
}
