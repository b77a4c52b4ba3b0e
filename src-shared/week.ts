/** Weeks of the season: how many days of each are fit to plant, to dig and to combine. A week is named by its Monday. */
import * as v from 'valibot'
import { between, monthDay } from './primitive.ts'
import { monthDay as aDay, number } from './sheet/kind.ts'
import { noun, noteProperty } from './sheet/noun.ts'

const days = (label: string) =>
  ({
    is: v.optional(between(0, 7)),
    label,
    unit: 'days',
    kind: number(),
    usual: [0, 6.9],
  }) as const

/** A day count left empty is the one of the assumptions. */
export const { schema: weekSchema, columns: weekColumns } = noun({
  /** Any day of the week serves: the week is the one that it is in. */
  starts: { is: monthDay, label: 'Week of', unit: 'as 05-04', kind: aDay, heads: ['week', 'monday', 'week beginning'] },
  plantingDays: { ...days('Fit for planting'), heads: ['planting days', 'planting'] },
  diggingDays: { ...days('Fit for digging'), heads: ['digging days', 'digging'] },
  combiningDays: { ...days('Fit for combining'), heads: ['combining days', 'combining', 'picking days'] },
  note: noteProperty,
})

export type SeasonWeek = v.InferOutput<typeof weekSchema>
