/**
 * Answers given to imports, kept on this machine for every farm: what a word means, which column a heading is. They can be seen and
 * taken back. A file that is lost or damaged costs the answers only.
 */
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import * as v from 'valibot'

const fileName = 'import-answers.json'
const schema = v.record(v.pipe(v.string(), v.maxLength(400)), v.pipe(v.string(), v.maxLength(300)))

/** More are not kept: the oldest go. */
const most = 5000

/** @param home the data folder; empty: nothing is kept */
export function listAnswers(home: string): Record<string, string> {
  if (home === '') return {}
  try {
    const parsed = v.safeParse(schema, JSON.parse(readFileSync(join(home, fileName), 'utf8')))
    return parsed.success ? parsed.output : {}
  } catch {
    return {}
  }
}

/** Adds answers to those that are kept. Never throws: an import does not fail for it. */
export function keepAnswers(home: string, answers: Readonly<Record<string, string>>): void {
  if (Object.keys(answers).length > 0) write(home, { ...listAnswers(home), ...answers })
}

/** @param key null: all of them */
export function forgetAnswers(home: string, key: string | null): null {
  const kept = listAnswers(home)
  write(home, key === null ? {} : Object.fromEntries(Object.entries(kept).filter(([each]) => each !== key)))
  return null
}

function write(home: string, answers: Record<string, string>): void {
  if (home === '') return
  try {
    mkdirSync(home, { recursive: true, mode: 0o700 })
    const path = join(home, fileName)
    writeFileSync(`${path}.new`, JSON.stringify(Object.fromEntries(Object.entries(answers).slice(-most)), null, 1), {
      mode: 0o600,
    })
    renameSync(`${path}.new`, path)
  } catch {
    // A full or read-only disk: the answers hold for this import.
  }
}
