/** The command that looks back: the review of a season of a farm file. It reads only. */
import type { Result } from '../../src-shared/problem.ts'
import { asJson, goTo, onFarm } from './cli-farm.ts'
import { reviewText } from './export/review-text.ts'

export interface ReviewOptions {
  season?: string | undefined
  json: boolean
  csv: boolean
}

/** What is printed, or what is wrong. */
export function reviewCommand(path: string, { season, json, csv }: ReviewOptions): Promise<Result<string>> {
  return onFarm(path, async (must) => {
    await goTo(must, season)
    if (csv) {
      const { base64 } = await must('review.file', { as: 'csv', table: 'by field' })
      return Buffer.from(base64, 'base64').toString('utf8')
    }
    const review = await must('review.now', {})
    return json ? asJson(review) : reviewText(review)
  })
}
