/** What is the same for every variety on a field: its pressure, its yield and the programmes worth looking at there. */
import { yearsOut, type Field, type PressureLevel } from '../field.ts'
import type { Problem } from '../problem.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import { expectedYield, type Context } from './context.ts'
import { groupsAskedFor } from './hard-rules.ts'
import { programmesOf, type Programme } from './programme.ts'
import { countedLevel, type ThreatCase } from './threat.ts'

export interface Ground {
  /** By threat, in the order of the season's threats. */
  levels: PressureLevel[]
  yearsOut: number | null
  /** [lb/acre] from the goal and the rotation. */
  yieldLb: number
  /** `leaves` of each is by threat, in the order of the season's threats. */
  programmes: Programme[]
  /** Sets of measures that there are, before any was left out. */
  looked: number
  notices: Problem[]
}

/** How much of each threat this ground has: as the manager says, or as a soil count says, or none. */
export function levelsOf(context: Context, field: Field): PressureLevel[] {
  return context.threats.map(
    (table) => field.pressure[table.name] ?? countedLevel(table, field.nematodesPer100cc) ?? 'none',
  )
}

/** True where the field may be planted in the window: no window named means any. */
export function isPlantedIn(field: Pick<Field, 'windows'>, window: Pick<PlantingWindow, 'name'>): boolean {
  return field.windows.length === 0 || field.windows.includes(window.name)
}

/** Reckons once what all options of a field share. What was left aside of its programmes stands in `notices`. */
export function groundOf(context: Context, field: Field): Ground {
  const { season, threats, hard } = context
  const levels = levelsOf(context, field)
  // A measure that bears on nothing this field has can only cost money, unless a rule may ask for it.
  const asked = groupsAskedFor(hard)
  const countAsks = (field.nematodesPer100cc ?? -1) >= hard.nematodeThreshold
  const present = threats
    .map((threat) => threat.name)
    .filter((name, t) => levels[t] !== 'none' || (countAsks && hard.nematodes.includes(name)))
  const useful = season.measures.filter(
    (measure) => asked.has(measure.group) || present.some((name) => (measure.efficacy[name] ?? 0) > 0),
  )
  const names = threats.map((threat) => threat.name)
  const { programmes, looked, leftAside } = programmesOf(useful, names, asked)
  return {
    levels,
    yearsOut: yearsOut(field.history, season.season),
    yieldLb: expectedYield(context, field),
    programmes,
    looked,
    notices: leftAside === 0 ? [] : [leftAsideNotice(field, programmes.length, leftAside)],
  }
}

function leftAsideNotice(field: Field, kept: number, leftAside: number): Problem {
  return {
    code: 'left-aside',
    what: `${field.name} has more sets of measures than are looked at: ${kept} were, ${leftAside} were left aside.`,
    where: { table: 'field', name: field.name },
    remedy: 'Put measures of which only one would be used into one group, or remove those that are never used.',
  }
}

/** The circumstances of one threat on this ground. Without a rating a variety counts as the book says. */
export function caseOf(
  context: Context,
  ground: Pick<Ground, 'levels' | 'yearsOut'>,
  threat: number,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
  stand: number,
): ThreatCase {
  const table = context.threats[threat]
  return {
    level: ground.levels[threat] ?? 'none',
    rating: variety.ratings[table?.name ?? ''] ?? context.hard.unrated,
    window: window.kind,
    rows: field.rowPattern,
    water: field.water,
    tillage: field.tillage,
    yearsOut: ground.yearsOut,
    stand,
    vine: table?.isLeaf ? context.vine[variety.vine][field.growth].leafSpot : 1,
  }
}
