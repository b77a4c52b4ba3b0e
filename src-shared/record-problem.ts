/** What records of the season are refused for alike, whether of deliveries, lots, tags or plantings. */
import type { Place, Problem } from './problem.ts'
import { showDay } from './show.ts'

/** It was there when the page was read. @param what as a sentence begins with it: “That lot” */
export function gone(what: string, where: Place): Problem {
  return {
    code: 'unknown-name',
    what: `${what} is not there any more.`,
    where,
    remedy: 'Look at the page again; it may have been taken back.',
  }
}

/** A record is of what was done. @param what as a sentence begins with it: “The planting” @param day ISO, after today */
export function inFuture(what: string, day: string, where: Place): Problem {
  return {
    code: 'bad-value',
    what: `${what} is dated ${showDay(day)}, which is still to come.`,
    where,
    remedy: 'Correct the day.',
  }
}
