/**
 * Loss by threat as it was expected of what was planted, against what was seen. Fields of which nobody said a word are not
 * counted as free of it: seen and expected are set against each other on the fields that were spoken of.
 */
import { silent } from '../agronomy/calculation.ts'
import type { Context } from '../agronomy/context.ts'
import { dollarsPerPound } from '../agronomy/price.ts'
import type { SeenRow } from '../seen.ts'
import type { PlantedBlock } from './expected.ts'

export interface TroubleField {
  field: string
  acres: number
  /** [$ as cent] crop that the loss is a share of. */
  cropCents: number
  expectedCents: number
  lowCents: number
  highCents: number
  /** Worst that was seen; null: nobody said. */
  seen: SeenRow | null
  /** [cent]; null where nobody said what it took. */
  seenCents: number | null
}

export interface Trouble {
  threat: string
  /** [cent] over all planted fields, with the ends of the book's range. */
  expectedCents: number
  lowCents: number
  highCents: number
  /** Of the fields where somebody said what it took: expected and seen. Null where there is none. */
  told: { fields: number; acres: number; expectedCents: number; seenCents: number } | null
  /** Fields where it was seen and not measured, and fields without a word. */
  unmeasured: number
  silent: number
  fields: TroubleField[]
}

/** [share] that a word on a field says was lost: as given, or none where there was none of it. */
function shareSeen({ level, loss }: Pick<SeenRow, 'level' | 'loss'>): number | null {
  return loss ?? (level === 'none' ? 0 : null)
}

/** Of several words on one field the worst: they are looks at the same trouble. */
export function worstSeen(seen: readonly SeenRow[], field: string, threat: string): SeenRow | null {
  const own = seen.filter((row) => row.field === field && row.threat === threat)
  return own.toSorted((a, b) => (shareSeen(b) ?? -1) - (shareSeen(a) ?? -1))[0] ?? null
}

/** Every threat of the season, in its order. @param blocks what was planted @param seen what was said of fields */
export function troubleOf(context: Context, blocks: readonly PlantedBlock[], seen: readonly SeenRow[]): Trouble[] {
  const centsPerPound = ({ at }: PlantedBlock) => dollarsPerPound(context.book, context.price, at.variety, silent) * 100
  return context.threats.map(({ name: threat }, t): Trouble => {
    const fields = [...Map.groupBy(blocks, ({ field }) => field)].map(([field, own]): TroubleField => {
      const crop = (block: PlantedBlock) => block.acres * block.beforeLb * centsPerPound(block)
      const sum = (of: (block: PlantedBlock) => number) => own.reduce((total, block) => total + of(block), 0)
      const loss = (end: 'low' | 'usual' | 'high') =>
        Math.round(sum((block) => crop(block) * (block.losses[t]?.[end] ?? 0)))
      const worst = worstSeen(seen, field, threat)
      const share = worst === null ? null : shareSeen(worst)
      const cropCents = sum(crop)
      return {
        field,
        acres: sum(({ acres }) => acres),
        cropCents,
        expectedCents: loss('usual'),
        lowCents: loss('low'),
        highCents: loss('high'),
        seen: worst,
        seenCents: share === null ? null : Math.round(share * cropCents),
      }
    })
    const told = fields.flatMap((each) => (each.seenCents === null ? [] : [{ ...each, seenCents: each.seenCents }]))
    const sum = <Each>(list: readonly Each[], of: (each: Each) => number) =>
      list.reduce((total, each) => total + of(each), 0)
    return {
      threat,
      expectedCents: sum(fields, (each) => each.expectedCents),
      lowCents: sum(fields, (each) => each.lowCents),
      highCents: sum(fields, (each) => each.highCents),
      told:
        told.length === 0
          ? null
          : {
              fields: told.length,
              acres: sum(told, ({ acres }) => acres),
              expectedCents: sum(told, (each) => each.expectedCents),
              seenCents: sum(told, (each) => each.seenCents),
            },
      unmeasured: fields.filter((each) => each.seen !== null && each.seenCents === null).length,
      silent: fields.filter((each) => each.seen === null).length,
      fields,
    }
  })
}
