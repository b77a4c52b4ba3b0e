/** Ranges of planting days that the rules speak of, and the machines that plant, dig and combine. */
import * as v from 'valibot'
import { between, fraction, monthDay, nameText, wholeBetween } from './primitive.ts'
import { choice, monthDay as aDay, number, percent, words } from './sheet/kind.ts'
import { noun } from './sheet/noun.ts'

/** How the range stands to the usual one; threat factors go by it. */
export const windowKinds = ['early', 'usual', 'late'] as const
export type WindowKind = (typeof windowKinds)[number]

export const { schema: windowSchema, columns: windowColumns } = noun({
  name: { is: nameText, label: 'Window', kind: words, heads: ['name'] },
  kind: { is: v.picklist(windowKinds, 'must be early, usual or late'), label: 'Kind', kind: choice(windowKinds) },
  opens: { is: monthDay, label: 'Opens', unit: 'as 04-28', kind: aDay },
  closes: { is: monthDay, label: 'Closes', unit: 'as 05-20', kind: aDay },
})

export type PlantingWindow = v.InferOutput<typeof windowSchema>

export const machineKinds = ['planter', 'digger', 'combine'] as const
export type MachineKind = (typeof machineKinds)[number]

export const { schema: machineSchema, columns: machineColumns } = noun({
  name: { is: nameText, label: 'Machine', kind: words, heads: ['name'] },
  kind: {
    is: v.picklist(machineKinds, 'must be planter, digger or combine'),
    label: 'Kind',
    kind: choice(machineKinds),
  },
  count: { is: v.optional(wholeBetween(1, 1000), 1), label: 'How many', kind: number(), heads: ['count'] },
  rows: { is: v.optional(wholeBetween(1, 48)), label: 'Rows', kind: number(), heads: ['row', 'rows at once'] },
  widthFt: { is: between(1, 200), label: 'Width', unit: 'ft', kind: number() },
  speedMph: { is: between(0.1, 30), label: 'Speed', unit: 'mph', kind: number() },
  /** [share] of the theoretical rate that is kept over turns and stops; with 0 a machine would never be done. */
  fieldEfficiency: {
    is: v.pipe(fraction, v.gtValue(0, 'must be more than 0 %')),
    label: 'Field efficiency',
    unit: '%',
    kind: percent,
  },
  hoursPerDay: { is: between(0, 24), label: 'Hours', unit: 'a day', kind: number(), heads: ['hours per day'] },
  /** Absent: from the start of the season. */
  availableFrom: {
    is: v.optional(monthDay),
    label: 'There from',
    unit: 'as 04-20',
    kind: aDay,
    heads: ['available from', 'from'],
  },
  /** Absent: to the end of the season. */
  availableUntil: {
    is: v.optional(monthDay),
    label: 'There until',
    unit: 'as 10-31',
    kind: aDay,
    heads: ['available until', 'until', 'to'],
  },
})

export type Machine = v.InferOutput<typeof machineSchema>
