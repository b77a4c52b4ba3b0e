/** Which figure of a review is asked about: each has a working of its own. */
import * as v from 'valibot'
import type { WorkingLine } from '../agronomy/working.ts'
import { nameText } from '../primitive.ts'
import { costParts } from './bill.ts'
import { views } from './money-rows.ts'
import { walkSteps } from './seed-walk.ts'
import { measures, stages } from './side-by-side.ts'

export const moneyFigures = [...costParts, 'cost', 'tons', 'value', 'margin', 'per acre', 'per ton'] as const
export type MoneyFigure = (typeof moneyFigures)[number]

export const figureSchema = v.variant('of', [
  v.strictObject({
    of: v.literal('side'),
    /** Null: the whole farm. */
    variety: v.nullable(nameText),
    measure: v.picklist(measures),
    stage: v.picklist(stages),
  }),
  v.strictObject({
    of: v.literal('seed'),
    variety: v.nullable(nameText),
    step: v.picklist([...walkSteps, 'planned', 'paid']),
  }),
  v.strictObject({
    of: v.literal('money'),
    view: v.picklist(views),
    /** Null: what cannot be placed; empty: the total. */
    key: v.nullable(v.pipe(v.string(), v.maxLength(100))),
    what: v.picklist(moneyFigures),
  }),
  v.strictObject({ of: v.literal('stand'), dealer: nameText, lotId: v.nullable(v.number()) }),
  v.strictObject({ of: v.literal('trouble'), threat: nameText }),
  v.strictObject({ of: v.literal('margin'), variety: nameText }),
])
export type Figure = v.InferOutput<typeof figureSchema>

export interface FigureWorking {
  title: string
  lines: WorkingLine[]
}
