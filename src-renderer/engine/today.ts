/** The day it is on this machine's calendar, as ISO text: the one edge where a season meets the present. */
export function isoDay(now = new Date()): string {
  const two = (part: number) => String(part).padStart(2, '0')
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`
}
