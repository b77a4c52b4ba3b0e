/** How far a run is, told in lines: one for each part that is done, and one now and then while a part takes long. */

/** What a line for the screen begins with; `test.mjs` shows such lines as they come. */
export const MARK = '\u00b6 '
/** [ms] without a line. */
const SILENCE = 15_000

export class Progress {
  #parts = new Map()
  #began = Date.now()
  #total = { passed: 0, failed: 0, files: 0 }
  #files
  #timer
  #write

  /** @param {string[]} partOfEach the part that each file belongs to */
  constructor(partOfEach, write = (text) => process.stdout.write(text)) {
    this.#write = write
    this.#files = partOfEach.length
    for (const part of partOfEach) {
      const own = this.#parts.get(part) ?? { left: 0, passed: 0, failed: 0, skipped: 0 }
      own.left += 1
      this.#parts.set(part, own)
    }
    this.#wait()
  }

  fail(name) {
    this.#say(`FAIL ${name}`)
  }

  /** One file is done. */
  done(part, { passed, failed, skipped }) {
    this.#total.passed += passed
    this.#total.failed += failed
    this.#total.files += 1
    const own = this.#parts.get(part)
    if (own === undefined) return
    own.passed += passed
    own.failed += failed
    own.skipped += skipped
    own.left -= 1
    if (own.left > 0) return
    const skips = own.skipped > 0 ? `, ${own.skipped} skipped` : ''
    const word = own.failed > 0 ? 'FAIL' : 'ok  '
    this.#say(`${word} ${part}: ${own.passed} passed, ${own.failed} failed${skips} (after ${this.#seconds()} s)`)
  }

  end() {
    clearTimeout(this.#timer)
  }

  #seconds() {
    return Math.round((Date.now() - this.#began) / 1000)
  }

  #say(line) {
    this.#write(`${MARK}${line}\n`)
    this.#wait()
  }

  #wait() {
    clearTimeout(this.#timer)
    this.#timer = setTimeout(() => {
      const { passed, failed, files } = this.#total
      this.#say(
        `     ${files} of ${this.#files} files, ${passed} passed, ${failed} failed so far (${this.#seconds()} s)`,
      )
    }, SILENCE)
    this.#timer.unref?.()
  }
}
