/** The weeks of a block of a plan. */
import type { PlanBlock, PlantedPart } from './plan.ts'

/** What is planted in which week; of a plan without weeks the block itself, in its window. */
export function partsOf(block: Pick<PlanBlock, 'window' | 'acres' | 'planted'>): PlantedPart[] {
  return block.planted ?? [{ window: block.window, week: '', acres: block.acres, ripe: '', dug: [] }]
}

/** [cent] What a block loses by the weeks in which it is dug. */
export function lostCents(block: PlanBlock): number {
  return partsOf(block).reduce((sum, { dug }) => sum + dug.reduce((all, { cents }) => all + cents, 0), 0)
}
