/**
 * Memory given back after long work. The heap of a plan's search is empty when it ends, but the runtime tidies only while
 * it is used, and an engine that has answered has nothing to do: without this it would stay half again as large.
 */
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'

/** [ms] so that what is asked right after the work is not kept waiting. */
const pause = 4000

let tidy: (() => void) | null = null
let timer: NodeJS.Timeout | undefined

/** Once, some seconds after the last call. */
export function giveBackSoon(): void {
  clearTimeout(timer)
  timer = setTimeout(() => {
    if (tidy === null) {
      setFlagsFromString('--expose-gc')
      tidy = runInNewContext('gc') as () => void
    }
    tidy()
  }, pause).unref()
}
