/** The command that lists the plan of a farm file by weeks. It reads only. */
import * as v from 'valibot'
import { isoDate } from '../../src-shared/primitive.ts'
import { fail, ProblemError, type Result } from '../../src-shared/problem.ts'
import { asJson, goTo, onFarm } from './cli-farm.ts'
import { calendarText } from './export/calendar-text.ts'

export interface CalendarOptions {
  season?: string | undefined
  today?: string | undefined
  json: boolean
  csv: boolean
  ics: boolean
}

/** What is printed, or what is wrong. */
export async function calendarCommand(path: string, options: CalendarOptions): Promise<Result<string>> {
  // As in spring: the command's clock, unless a day is given.
  const today = options.today ?? new Date().toLocaleDateString('sv-SE')
  if (!v.is(isoDate, today)) {
    const what = `--today must be a date such as 2027-01-20, not "${today}".`
    return fail({ code: 'bad-value', what, remedy: 'Correct the option.' })
  }
  return onFarm(path, async (must) => {
    await goTo(must, options.season)
    if (options.csv || options.ics) {
      const { base64 } = await must('calendar.file', { as: options.ics ? 'ics' : 'csv', today })
      return Buffer.from(base64, 'base64').toString('utf8')
    }
    const view = await must('calendar.seen', {})
    if (view === null) {
      const what = 'The farm has no plan by weeks yet.'
      throw new ProblemError([{ code: 'missing', what, remedy: 'Open the farm in Standwell and solve the plan.' }])
    }
    return options.json ? asJson(view) : calendarText(view)
  })
}
