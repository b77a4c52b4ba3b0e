/**
 * Tells `npm test` how far vitest is: a line for each folder of tests when its last file is done, a line now and then between,
 * and each failed test at once. Lines for the screen begin with a mark, the rest of the output is kept for failures.
 */
import { relative } from 'node:path'
import { Progress } from './progress.mjs'

/** `tests/plan`, for any file below it. */
const partOf = (path) => relative(process.cwd(), path).replaceAll('\\', '/').split('/').slice(0, 2).join('/')

export default class VitestLines {
  onTestRunStart(specifications) {
    this.progress = new Progress(specifications.map(({ moduleId }) => partOf(moduleId)))
  }

  onTestModuleEnd(module) {
    const counts = { passed: 0, failed: 0, skipped: 0 }
    for (const test of module.children.allTests()) {
      const { state } = test.result()
      counts[state === 'pending' ? 'skipped' : state] += 1
      if (state === 'failed') this.progress.fail(`${relative(process.cwd(), module.moduleId)}: ${test.fullName}`)
    }
    if (module.state() === 'failed' && counts.failed === 0) {
      counts.failed = 1
      this.progress.fail(`${relative(process.cwd(), module.moduleId)} does not load or end`)
    }
    this.progress.done(partOf(module.moduleId), counts)
  }

  onTestRunEnd() {
    this.progress.end()
  }
}
