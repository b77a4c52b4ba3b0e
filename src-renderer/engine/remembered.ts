/**
 * The engine's last answers, by question, until a table that they look at changes: a page gone back to stands at once, and
 * its questions are asked again all the same. Memory of this window only.
 */
import { api, type CallName, type TableName } from '../../src-shared/api.ts'

/** [answer] more than all pages together ask for; the oldest go first. */
const most = 60

const answers = new Map<string, { name: CallName; value: unknown }>()
const key = (name: CallName, question: string) => `${name} ${question}`

export function remember(name: CallName, question: string, value: unknown): void {
  answers.delete(key(name, question))
  answers.set(key(name, question), { name, value })
  const [oldest] = answers.keys()
  if (answers.size > most && oldest !== undefined) answers.delete(oldest)
}

/** @returns undefined where nothing is known, or what was known holds no more */
export function remembered(name: CallName, question: string): unknown {
  return answers.get(key(name, question))?.value
}

/** @param tables that changed, or are about to; null where all may have */
export function forget(tables: readonly TableName[] | null): void {
  for (const [question, { name }] of answers) {
    if (tables === null || api[name].tables.some((own) => tables.includes(own))) answers.delete(question)
  }
}
