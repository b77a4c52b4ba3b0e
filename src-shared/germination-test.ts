/** A germination test of a lot, by a laboratory or at home, with its replicates where they are known. */
import * as v from 'valibot'
import { isoDate, nameText, note, wholeBetween } from './primitive.ts'
import { testedShare } from './tag.ts'

const replicate = v.pipe(
  v.strictObject({
    seeds: wholeBetween(1, 10_000),
    /** Normal seedlings. */
    sprouted: wholeBetween(0, 10_000),
  }),
  v.check(({ seeds, sprouted }) => sprouted <= seeds, 'must not have more seedlings than seeds'),
)
export type Replicate = v.InferOutput<typeof replicate>

export const germinationTestSchema = v.pipe(
  v.strictObject({
    testedOn: isoDate,
    /** Absent: tested at home. */
    laboratory: v.nullable(nameText),
    /** [share]; null: as the replicates say. */
    germination: v.nullable(testedShare),
    hardSeed: v.nullable(testedShare),
    replicates: v.pipe(v.array(replicate), v.maxLength(100, 'must not be more than 100 replicates')),
    note: v.nullable(note),
  }),
  v.check(
    ({ germination, replicates }) => germination !== null || replicates.length > 0,
    'must have a germination or the replicates that it is counted from',
  ),
)
export type GivenTest = v.InferOutput<typeof germinationTestSchema>

export interface GerminationTest extends GivenTest {
  id: number
  germination: number
}

/** [share] of all seeds of the replicates that made normal seedlings. */
export function germinationOf(replicates: readonly Replicate[]): number {
  const seeds = replicates.reduce((sum, each) => sum + each.seeds, 0)
  return replicates.reduce((sum, each) => sum + each.sprouted, 0) / seeds
}
