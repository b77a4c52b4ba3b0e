/** The working behind a number, from the season as it stands now. */
import { placeOf } from '../../src-shared/agronomy/block-money.ts'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { explain, type OptionName, type Working } from '../../src-shared/agronomy/explain.ts'
import { trialIndexes, type TrialIndex, type TrialRow } from '../../src-shared/agronomy/trial.ts'
import { rateCurve, type RatePoint } from '../../src-shared/agronomy/rate-curve.ts'
import { ProblemError, valueOf } from '../../src-shared/problem.ts'
import type { OpenFarm } from './farm-file.ts'
import { gather } from './plan/gather.ts'

export async function explainNow(farm: OpenFarm, option: OptionName): Promise<Working> {
  return valueOf(explain(contextOf(await gather(farm.db, farm.seasonId)), option))
}

/** Margin against seeding rate where a block of the plan stands; a problem where something it names is gone. */
export async function ratesOf(
  farm: OpenFarm,
  option: OptionName & { seedCentsPerPound: number },
): Promise<RatePoint[]> {
  const context = contextOf(await gather(farm.db, farm.seasonId))
  const at = placeOf(context, { ...option })
  if (at === undefined) {
    throw new ProblemError([
      {
        code: 'unknown-name',
        what: `${option.field}, ${option.variety} or ${option.window} is no longer in this season.`,
        where: { name: option.field },
        remedy: 'Solve again, then look at the field once more.',
      },
    ])
  }
  return rateCurve(context, at, option.programme, option.seedCentsPerPound)
}

/** Yield indexes that trials propose; against the usual variety of the assumptions, else against each trial's mean. */
export async function trialsNow(farm: OpenFarm, rows: readonly TrialRow[]): Promise<TrialIndex[]> {
  const { book } = contextOf(await gather(farm.db, farm.seasonId))
  return trialIndexes(book, rows, book.word('usual/variety'))
}
