/** The working behind a number, from the season as it stands now. */
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { explain, type OptionName, type Working } from '../../src-shared/agronomy/explain.ts'
import { valueOf } from '../../src-shared/problem.ts'
import type { OpenFarm } from './farm-file.ts'
import { gather } from './plan/gather.ts'

export async function explainNow(farm: OpenFarm, option: OptionName): Promise<Working> {
  return valueOf(explain(contextOf(await gather(farm.db, farm.seasonId)), option))
}
