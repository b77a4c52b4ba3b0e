/** Trouble seen in a field: which threat, how bad, and what it took of the crop as far as the grower can say. */
import * as v from 'valibot'
import { pressureLevels } from './field.ts'
import { fraction, isoDate, nameText } from './primitive.ts'
import { oneOf } from './sheet/column.ts'
import { choice, day, percent } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'

export const { schema: seenSchema, columns: seenColumns } = noun({
  field: { is: nameText, label: 'Field', kind: ({ fields }) => oneOf(fields), heads: ['field name'] },
  threat: {
    is: nameText,
    label: 'Threat',
    kind: ({ threats }) => oneOf(threats),
    heads: ['trouble', 'disease', 'problem'],
  },
  level: {
    is: v.picklist(pressureLevels, 'must be none, low, moderate, high or severe'),
    label: 'How bad',
    kind: choice(pressureLevels),
    heads: ['level', 'severity', 'pressure'],
  },
  seenOn: {
    is: v.optional(isoDate),
    label: 'Seen',
    unit: 'as 2027-08-20',
    kind: day,
    heads: ['date', 'seen on', 'scouted'],
  },
  /** [share] of the field's crop that it took; absent: nobody can say. */
  loss: {
    is: v.optional(fraction),
    label: 'Took of the crop',
    unit: '%, empty: unknown',
    kind: percent,
    heads: ['loss', 'loss %', 'yield loss'],
  },
  note: noteProperty,
})
export type Seen = v.InferOutput<typeof seenSchema>

export interface SeenRow extends Seen {
  id: number
  fieldId: number
}
