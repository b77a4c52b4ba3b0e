/** Types of counts.mjs, which stays plain JavaScript so that any Node can run it. */
interface Counts {
  passed: number
  failed: number
  skipped: number
  names: string[]
  times: Time[]
}
interface Time {
  ms: number
  name: string
}
export function vitestCounts(report: unknown): Counts
export function playwrightCounts(report: unknown): Counts
export function slowest(times: Time[], count?: number): string[]
