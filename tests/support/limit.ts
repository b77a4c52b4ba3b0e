/** How long a test of safety may take: in the whole and in the long set its work is counted, not its seconds, however slow the machine is. */
import { takesAll } from './sampled.ts'

/** @param seconds with every commit; a vitest `timeout` [ms], where 0 is none */
export function limit(seconds: number): { timeout: number } {
  return { timeout: takesAll ? 0 : seconds * 1000 }
}
