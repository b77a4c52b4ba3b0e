/** Real farm files in a folder of their own, a small season that uses every kind of row, and whole-file comparison. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { Connection } from '../../src-main/engine/db/connect.ts'
import { undoableTables } from '../../src-main/engine/db/undo.ts'
import { createFarm, type OpenFarm } from '../../src-main/engine/farm-file.ts'
import { readSeason, type Season } from '../../src-shared/season.ts'

/** A folder that is removed when the test ends. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'standwell-test-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

/** A new farm file, open until the test ends. */
export function newFarm(season: Season = smallSeason(), folder = temporaryFolder()): OpenFarm {
  const created = createFarm(join(folder, 'Test.farm'), season)
  if (!created.ok) throw new Error(JSON.stringify(created.problems))
  onTestFinished(() => created.value.close())
  return created.value
}

/** Every row of every undoable table: what undo must bring back to the last byte. */
export function dumpOf(connection: Connection): Record<string, unknown[]> {
  const tables = undoableTables(connection)
  return Object.fromEntries(
    tables.map((table) => [table, connection.prepare(`SELECT * FROM "${table}" ORDER BY id`).all()]),
  )
}

/** Invented. Three fields, three varieties, two dealers; at least one of everything that a season can hold. */
export function smallSeason(): Season {
  const read = readSeason(raw, 'small.season.json')
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

const ring = [
  [-83.1, 31.1],
  [-83.09, 31.1],
  [-83.09, 31.11],
  [-83.1, 31.1],
]

const raw = {
  format: 'standwell-season',
  version: 1,
  farm: { name: 'Test Farm', county: 'Nowhere' },
  season: 2027,
  windows: [
    { name: 'Early', kind: 'early', opens: '04-10', closes: '04-30' },
    { name: 'Usual', kind: 'usual', opens: '05-01', closes: '05-20' },
  ],
  machines: [
    { name: 'Planter', kind: 'planter', count: 1, widthFt: 18, speedMph: 3, fieldEfficiency: 0.65, hoursPerDay: 10 },
    { name: 'Combine', kind: 'combine', count: 2, widthFt: 12, speedMph: 2.5, fieldEfficiency: 0.7, hoursPerDay: 9 },
  ],
  threats: [
    { name: 'early leaf spot', kind: 'leaf' },
    { name: 'late leaf spot', kind: 'leaf' },
    { name: 'southern stem rot', kind: 'soil' },
    { name: 'spotted wilt', kind: 'virus', note: 'carried by thrips' },
    { name: 'root-knot nematode', kind: 'nematode' },
  ],
  measures: [
    { name: 'In-furrow', group: 'insecticide', centsPerAcre: 1250.5, efficacy: { 'spotted wilt': 0.3 } },
    {
      name: 'Nematicide',
      group: 'nematicide',
      centsPerAcre: 6500,
      efficacy: { 'root-knot nematode': 0.6 },
      source: 'the test',
    },
  ],
  fields: [
    {
      name: 'Creek Bottom',
      acres: 88,
      boundary: { type: 'Polygon', coordinates: [ring] },
      rowSpacingIn: 36,
      rowPattern: 'twin',
      water: 'irrigated',
      soil: 'sandy loam',
      history: [
        { season: 2026, crop: 'cotton' },
        { season: 2025, crop: 'corn' },
        { season: 2024, crop: 'peanut' },
      ],
      pressure: { 'spotted wilt': 'high', 'root-knot nematode': 'moderate' },
      nematodesPer100cc: 40,
      windows: ['Early', 'Usual'],
      growth: 'rank',
      yieldGoalLb: 4800,
      drop: { kind: 'stand', plantsPerFoot: 4.1 },
      split: { leastBlockAcres: 20, mostVarieties: 2 },
      note: 'gate sticks',
    },
    {
      name: 'Hill',
      acres: 41.3,
      rowSpacingIn: 36,
      rowPattern: 'single',
      water: 'dryland',
      tillage: 'strip',
      yieldGoalLb: 3300,
      drop: { kind: 'fixed', seedsPerFoot: 6 },
    },
    { name: 'Long Field', acres: 60.1, rowSpacingIn: 38, rowPattern: 'single', water: 'dryland', yieldGoalLb: 3500 },
  ],
  varieties: [
    {
      name: 'Amber',
      oilType: 'high oleic',
      seedsPerPound: 680,
      vine: 'medium',
      daysToMaturity: 140,
      ratings: { 'spotted wilt': 3, 'late leaf spot': 4 },
    },
    {
      name: 'Bison',
      seedsPerPound: 590.5,
      germination: 0.8,
      vine: 'large',
      daysToMaturity: 145,
      yieldIndex: 1.05,
      gradeIndex: 0.98,
      ratings: { 'spotted wilt': 5 },
      isTreated: false,
      note: 'big seed',
    },
    { name: 'Cedar', seedsPerPound: 720, vine: 'compact', daysToMaturity: 135, ratings: { 'root-knot nematode': 1 } },
  ],
  dealers: [
    { name: 'North Seed', orderFeeCents: 5000, breaks: [{ fromPounds: 10000, offCentsPerPound: 1.5 }] },
    { name: 'South Seed', leastPounds: 500, mostPounds: 40000, note: 'ask early' },
  ],
  quotes: [
    {
      dealer: 'North Seed',
      variety: 'Amber',
      packPounds: 50,
      packPriceCents: 4550,
      breaks: [
        { fromPacks: 100, packPriceCents: 4400 },
        { fromPacks: 200, packPriceCents: 4300 },
      ],
    },
    { dealer: 'North Seed', variety: 'Cedar', packPounds: 50, packPriceCents: 5200, availablePacks: 150 },
    {
      name: 'early order',
      dealer: 'South Seed',
      variety: 'Bison',
      packPounds: 2000,
      packPriceCents: 160000,
      leastPacks: 1,
      orderBy: '2027-01-31',
      returnBy: '2027-05-15',
      returnCredit: 0.9,
    },
    { name: 'late order', dealer: 'South Seed', variety: 'Bison', packPounds: 2000, packPriceCents: 170000 },
  ],
  carried: [{ variety: 'Cedar', lot: 'C-17', pounds: 600, germination: 0.82, mustUse: true }],
  rules: [
    { rule: 'reserve', amount: 0.03 },
    { rule: 'largest-share', subject: 'Amber', amount: 0.8 },
    { rule: 'largest-loss', subject: 'spotted wilt', amount: 0.9, note: 'no ruin' },
    { rule: 'contract', subject: 'high oleic', amount: 10, isOn: false },
  ],
  assumptions: [
    {
      key: 'price/peanuts',
      value: 520,
      unit: '$/ton',
      low: 300,
      high: 900,
      source: 'contract',
      sourceKind: 'the farm',
    },
    { key: 'vine/large/rank/action', value: 'hold back', sourceKind: 'the farm' },
  ],
  locks: [{ field: 'Hill', variety: 'Amber', window: 'Usual' }],
  exclusions: [
    { field: 'Long Field', variety: 'Cedar' },
    { variety: 'Bison', window: 'Early' },
  ],
}
