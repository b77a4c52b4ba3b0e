/** A large farm for the speed of options: any number of fields, 25 varieties, 4 windows, 16 programmes a field. */
import { growthLevels, pressureLevels } from '../../src-shared/field.ts'
import { readSeason, type Season } from '../../src-shared/season.ts'
import { vineClasses } from '../../src-shared/variety.ts'

const threats = ['early leaf spot', 'late leaf spot', 'southern stem rot', 'spotted wilt', 'root-knot nematode']

/** One of a list by turns, so that every combination comes up and two runs are alike. */
function turn<Item>(list: readonly Item[], at: number): Item {
  return list[at % list.length] as Item
}

/**
 * @param fields how many; each has its own pressure, water, rows and history
 * @returns a season whose measures make 4 × 2 × 2 = 16 programmes on every field
 */
export function optionsFarm(fields: number): Season {
  const season = readSeason(
    {
      format: 'standwell-season',
      version: 1,
      farm: { name: 'Speed' },
      season: 2027,
      windows: [
        { name: 'Early', kind: 'early', opens: '04-15', closes: '04-30' },
        { name: 'First usual', kind: 'usual', opens: '05-01', closes: '05-10' },
        { name: 'Second usual', kind: 'usual', opens: '05-11', closes: '05-20' },
        { name: 'Late', kind: 'late', opens: '05-21', closes: '06-05' },
      ],
      machines: (['planter', 'digger', 'combine'] as const).map((kind) => ({
        name: kind,
        kind,
        count: 3,
        widthFt: 18,
        speedMph: 3,
        fieldEfficiency: 0.7,
        hoursPerDay: 10,
      })),
      threats: threats.map((name, t) => ({ name, kind: turn(['leaf', 'leaf', 'soil', 'virus', 'nematode'], t) })),
      measures: [
        ...[0.4, 0.6, 0.8].map((efficacy, m) => ({
          name: `Schedule ${m}`,
          group: 'fungicide',
          centsPerAcre: 4000 + 3000 * m,
          efficacy: { 'early leaf spot': efficacy, 'late leaf spot': efficacy, 'southern stem rot': efficacy / 2 },
        })),
        { name: 'Insecticide', group: 'insecticide', centsPerAcre: 1400, efficacy: { 'spotted wilt': 0.35 } },
        { name: 'Nematicide', group: 'nematicide', centsPerAcre: 5800, efficacy: { 'root-knot nematode': 0.55 } },
      ],
      fields: Array.from({ length: fields }, (_, f) => ({
        name: `Field ${f}`,
        acres: 20 + (f % 90),
        rowSpacingIn: 36,
        rowPattern: turn(['single', 'twin'], f),
        water: turn(['irrigated', 'dryland'], f >> 1),
        tillage: turn(['conventional', 'strip'], f >> 2),
        growth: turn(growthLevels, f),
        yieldGoalLb: 3200 + (f % 20) * 100,
        history: [{ season: 2026 - (f % 4), crop: 'peanut' }],
        // Never none, so that every measure can be of use and no programme is left out beforehand.
        pressure: Object.fromEntries(threats.map((name, t) => [name, turn(pressureLevels.slice(1), f + t)])),
      })),
      varieties: Array.from({ length: 25 }, (_, i) => ({
        name: `Variety ${i}`,
        seedsPerPound: 600 + 8 * i,
        vine: turn(vineClasses, i),
        daysToMaturity: 130 + (i % 20),
        ratings: Object.fromEntries(threats.map((name, t) => [name, 1 + ((i + 2 * t) % 9)])),
      })),
      dealers: [{ name: 'North Seed' }],
      quotes: Array.from({ length: 25 }, (_, i) => ({
        dealer: 'North Seed',
        variety: `Variety ${i}`,
        packPounds: 50,
        packPriceCents: 4000 + 30 * i,
      })),
      rules: [
        { rule: 'choose-rate' },
        { rule: 'early-rating', subject: 'spotted wilt', amount: 8 },
        { rule: 'early-measure', subject: 'insecticide' },
        { rule: 'largest-loss', subject: 'southern stem rot', amount: 0.3 },
      ],
    },
    'options-farm',
  )
  if (!season.ok) throw new Error(JSON.stringify(season.problems))
  return season.value
}
