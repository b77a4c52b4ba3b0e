/** How much of each disease and pest a field has. */
import { peanutNematodes, type Field, type PressureLevel } from '../field.ts'
import type { Context } from './context.ts'
import { countedLevel } from './threat.ts'

/** As the manager says, or as a soil count says, or none. In the order of the season's diseases and pests. */
export function levelsOf(context: Pick<Context, 'threats'>, field: Field): PressureLevel[] {
  return context.threats.map(
    (table) => field.pressure[table.name] ?? countedLevel(table, peanutNematodes(field)) ?? 'none',
  )
}
