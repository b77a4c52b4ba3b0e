/** When fields can be planted, and the machines that plant, dig and combine. */
import * as v from 'valibot'
import { between, fraction, monthDay, nameText, wholeBetween } from './primitive.ts'

/** How the window stands to the usual one; threat factors go by it. */
export const windowKinds = ['early', 'usual', 'late'] as const
export type WindowKind = (typeof windowKinds)[number]

export const windowSchema = v.strictObject({
  name: nameText,
  kind: v.picklist(windowKinds, 'must be early, usual or late'),
  opens: monthDay,
  closes: monthDay,
  /** [day] days in the window fit for planting. */
  fitDays: between(0, 120),
})

export type PlantingWindow = v.InferOutput<typeof windowSchema>

export const machineKinds = ['planter', 'digger', 'combine'] as const
export type MachineKind = (typeof machineKinds)[number]

export const machineSchema = v.strictObject({
  name: nameText,
  kind: v.picklist(machineKinds, 'must be planter, digger or combine'),
  count: v.optional(wholeBetween(1, 1000), 1),
  widthFt: between(1, 200),
  speedMph: between(0.1, 30),
  /** [share] of the theoretical rate that is kept over turns and stops; with 0 a machine would never be done. */
  fieldEfficiency: v.pipe(fraction, v.gtValue(0, 'must be more than 0 %')),
  hoursPerDay: between(0, 24),
})

export type Machine = v.InferOutput<typeof machineSchema>
