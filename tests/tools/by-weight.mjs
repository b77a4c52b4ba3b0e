/**
 * Begins with the test files that take longest, so that no long one is left for the end. The weights are kept, because a fresh
 * checkout has no times of its own; a file that is not named is light.
 */
import { relative } from 'node:path'
import { readFileSync } from 'node:fs'
import { BaseSequencer } from 'vitest/node'

/** [s] of processor time by file, measured on two cores; only the order matters. */
const weights = JSON.parse(readFileSync(new URL('./weights.json', import.meta.url), 'utf8'))

export default class ByWeight extends BaseSequencer {
  async sort(files) {
    // A kind of test after the other: a worker that goes on with another kind begins anew.
    const kinds = ['apart', 'node', 'component']
    const kindOf = ({ project }) => kinds.indexOf(project.name)
    const weightOf = ({ moduleId }) => weights[relative(process.cwd(), moduleId).replaceAll('\\', '/')] ?? 1
    return [...files].sort(
      (one, other) =>
        kindOf(one) - kindOf(other) || weightOf(other) - weightOf(one) || (one.moduleId < other.moduleId ? -1 : 1),
    )
  }
}
