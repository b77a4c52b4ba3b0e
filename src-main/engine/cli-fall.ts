/** The commands of fall on a farm file. */
import type { FallVerb } from '../../src-shared/fall-verb.ts'
import type { Result } from '../../src-shared/problem.ts'
import { asJson, onFarm } from './cli-farm.ts'
import { reviewText } from './export/review-text.ts'

export interface FallOptions {
  json: boolean
  csv: boolean
}

/** What is printed, or what is wrong. */
export async function fallCommand(_verb: FallVerb, path: string, options: FallOptions): Promise<Result<string>> {
  return onFarm(path, async (must) => {
    if (options.csv) {
      const { base64 } = await must('review.file', { as: 'csv', table: 'by field' })
      return Buffer.from(base64, 'base64').toString('utf8')
    }
    const review = await must('review.now', {})
    return options.json ? asJson(review) : reviewText(review)
  })
}
