/** Trouble seen in a field: which threat, how bad, and what it took of the crop as far as the grower can say. */
import * as v from 'valibot'
import { pressureLevels } from './field.ts'
import { fraction, isoDate, nameText, note } from './primitive.ts'

export const seenSchema = v.strictObject({
  field: nameText,
  threat: nameText,
  seenOn: v.optional(isoDate),
  level: v.picklist(pressureLevels, 'must be none, low, moderate, high or severe'),
  /** [share] of the field's crop that it took; absent: nobody can say. */
  loss: v.optional(fraction),
  note: v.optional(note),
})
export type Seen = v.InferOutput<typeof seenSchema>

export interface SeenRow extends Seen {
  id: number
  fieldId: number
}
