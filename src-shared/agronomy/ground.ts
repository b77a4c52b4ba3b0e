/** The spray programs worth looking at on a field: the same for every variety there. */
import { peanutNematodes, type Field, type PressureLevel } from '../field.ts'
import type { Problem } from '../problem.ts'
import type { PlantingWindow } from '../window.ts'
import type { Context } from './context.ts'
import { groupsAskedFor } from './hard-rules.ts'
import { gainOn } from './practice-gain.ts'
import { MOST_PROGRAMMES, programmesOf, type Programme } from './programme.ts'

export interface ProgrammesOnField {
  /** `leaves` of each is by disease or pest, in the order of the season's. */
  programmes: Programme[]
  /** Sets of practices that there are, before any was left out. */
  looked: number
  notices: Problem[]
}

/** True where the field may be planted in the window: no window named means any. */
export function isPlantedIn(field: Pick<Field, 'windows'>, window: Pick<PlantingWindow, 'name'>): boolean {
  return field.windows.length === 0 || field.windows.includes(window.name)
}

/** Worked out once for all options of a field. What was left aside stands in `notices`. */
export function programmesOn(context: Context, field: Field, levels: readonly PressureLevel[]): ProgrammesOnField {
  const { season, threats, hard } = context
  // A practice that bears on nothing this field has can only cost money, unless a rule may ask for it.
  const asked = groupsAskedFor(hard)
  const countAsks = (peanutNematodes(field) ?? -1) >= hard.nematodeThreshold
  const present = threats
    .map((threat) => threat.name)
    .filter((name, t) => levels[t] !== 'none' || (countAsks && hard.nematodes.includes(name)))
  const useful = season.measures.filter(
    (measure) =>
      asked.has(measure.group) ||
      gainOn(field, measure) > 0 ||
      present.some((name) => (measure.efficacy[name] ?? 0) > 0),
  )
  const names = threats.map((threat) => threat.name)
  const { programmes, looked, leftAside } = programmesOf(useful, names, asked, MOST_PROGRAMMES, (measure) =>
    gainOn(field, measure),
  )
  return { programmes, looked, notices: leftAside === 0 ? [] : [leftAsideNotice(field, programmes.length, leftAside)] }
}

function leftAsideNotice(field: Field, kept: number, leftAside: number): Problem {
  return {
    code: 'left-aside',
    what: `${field.name} has more sets of measures than are looked at: ${kept} were, ${leftAside} were left aside.`,
    where: { table: 'field', name: field.name },
    remedy: 'Put measures of which only one would be used into one group, or remove those that are never used.',
  }
}
