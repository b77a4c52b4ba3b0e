/** The regional starting values for the south-east: data with sources, replaced row by row by the farm's own. */
import * as v from 'valibot'
import { assumptionSchema, type Assumption } from '../assumption.ts'
import rows from './south-east.json' with { type: 'json' }

export const starterBook: readonly Assumption[] = v.parse(v.array(assumptionSchema), rows)
