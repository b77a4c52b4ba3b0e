/**
 * The cautions that apply to what is shown: a measure, a variety's seed, an option. The words stand in
 * `threat.ts`; here is only which of them apply. Re-entry and pre-harvest intervals are never shipped: they are on the
 * label, and `fromLabel` has what the manager copied.
 */
import { cautions, type Measure } from '../threat.ts'
import type { Variety } from '../variety.ts'

export interface Caution {
  kind: keyof typeof cautions
  /** What it is about: the name of a measure or a variety. */
  about: string
  says: string
  /** What was copied from the label; null where it is still to be copied. Only for pesticides. */
  fromLabel?: string | null
}

/** Of a measure: none unless it is a pesticide. */
export function cautionsOfMeasure(measure: Measure): Caution[] {
  if (!measure.isPesticide) return []
  return [{ kind: 'pesticide', about: measure.name, says: cautions.pesticide, fromLabel: measure.fromLabel ?? null }]
}

/** Of a variety's seed: none unless it is treated. */
export function cautionsOfVariety(variety: Pick<Variety, 'name' | 'isTreated'>): Caution[] {
  return variety.isTreated ? [{ kind: 'treatedSeed', about: variety.name, says: cautions.treatedSeed }] : []
}

/** Of an option: its seed, every pesticide in its programme, and that its losses are estimates. */
export function cautionsOfOption(variety: Variety, programme: readonly Measure[]): Caution[] {
  return [
    ...cautionsOfVariety(variety),
    ...programme.flatMap(cautionsOfMeasure),
    { kind: 'estimate', about: variety.name, says: cautions.estimate },
  ]
}
