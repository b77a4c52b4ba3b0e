/** Tells `npm test` how far the window tests are: a line for each file of them, and each failed test at once. */
import { basename } from 'node:path'
import { Progress } from './progress.mjs'

export default class PlaywrightLines {
  #left = new Map()
  #counts = new Map()

  onBegin(_config, suite) {
    for (const test of suite.allTests()) {
      const file = basename(test.location.file)
      this.#left.set(file, (this.#left.get(file) ?? 0) + 1)
      this.#counts.set(file, { passed: 0, failed: 0, skipped: 0 })
    }
    this.progress = new Progress([...this.#left.keys()])
  }

  onTestEnd(test, result) {
    const file = basename(test.location.file)
    const counts = this.#counts.get(file)
    const how = result.status === 'skipped' ? 'skipped' : test.outcome() === 'expected' ? 'passed' : 'failed'
    counts[how] += 1
    if (how === 'failed') this.progress.fail(`${file}: ${test.title}`)
    this.#left.set(file, this.#left.get(file) - 1)
    if (this.#left.get(file) === 0) this.progress.done(file, counts)
  }

  onEnd() {
    this.progress?.end()
  }

  printsToStdio() {
    return false
  }
}
