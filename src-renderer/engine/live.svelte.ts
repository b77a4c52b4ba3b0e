/** A query that reruns when the tables it looks at are announced. Made in a component; stops with it. */
import { untrack } from 'svelte'
import type { CallName, GivenInput, News, Output } from '../../src-shared/api.ts'
import { api, type TableName } from '../../src-shared/api.ts'
import type { Problem } from '../../src-shared/problem.ts'
import { call, listen, listenAhead } from './call.ts'
import { remember, remembered } from './remembered.ts'
import { keepSame } from './same.ts'
import { shown } from './shown-queries.ts'

type Api = typeof api
export type ReadName = { [Name in CallName]: Api[Name]['kind'] extends 'read' ? Name : never }[CallName]

/**
 * `value` is undefined until the first answer and stays at the last good one while a newer is on its way.
 * An answer is shown as it comes, unless one that was asked for later has come before it. Rows that did not change stay
 * the same objects.
 */
export class Live<Name extends ReadName> {
  value = $state.raw<Output<Name> | undefined>(undefined)
  problems = $state.raw<readonly Problem[]>([])
  isLoading = $state(true)
  readonly #name: Name
  readonly #input: () => GivenInput<Name> | null
  #turn = 0
  /** The turn whose answer is shown: what was asked before it says nothing newer. */
  #shown = 0
  #question = ''

  /** @param input a function, so that what it reads is followed; null asks for nothing */
  constructor(name: Name, input: () => GivenInput<Name> | null) {
    this.#name = name
    this.#input = input
    $effect(() => {
      const given = input()
      untrack(() => void this.#ask(given))
    })
    $effect(() => {
      shown.add(this)
      return () => shown.delete(this)
    })
    $effect(() => listen((news) => this.#hear(news)))
    $effect(() => listenAhead((tables) => this.#looksAt(tables) && void this.#ask(this.#input())))
    // Nobody tells it any more what holds no longer: an answer on its way is not the one asked for last.
    $effect(() => () => (this.#turn += 1))
  }

  #looksAt(tables: readonly TableName[]): boolean {
    return tables.some((table) => api[this.#name].tables.some((own) => own === table))
  }

  #hear(news: News) {
    const concerns =
      (news.kind === 'changed' && this.#looksAt(news.tables)) || (news.kind === 'engine' && news.state === 'restarted')
    if (concerns) void this.#ask(this.#input())
  }

  get name(): CallName {
    return this.#name
  }

  /** Asks again. Resolves when the answer, or one that was asked for later, is shown. */
  refresh(): Promise<void> {
    return this.#ask(this.#input())
  }

  async #ask(given: GivenInput<Name> | null) {
    const turn = ++this.#turn
    const question = JSON.stringify(given)
    if (question !== this.#question) {
      // Answers to what was asked of something else are of no use any more.
      this.#shown = turn
      this.#question = question
      const known = remembered(this.#name, question) as Output<Name> | undefined
      if (given !== null && known !== undefined) this.value = known
    }
    if (given === null) {
      this.value = undefined
      this.problems = []
      this.isLoading = false
      return
    }
    this.isLoading = true
    const reply = await call(this.#name, given)
    if (turn < this.#shown) return
    this.#shown = turn
    if (reply.ok) this.value = keepSame(this.value, reply.value as Output<Name>)
    this.problems = keepSame(this.problems, reply.ok ? [] : reply.problems)
    if (turn !== this.#turn) return
    this.isLoading = false
    if (reply.ok) remember(this.#name, question, this.value)
  }
}

export function live<Name extends ReadName>(
  name: Name,
  input: () => GivenInput<Name> | null = () => ({}) as GivenInput<Name>,
): Live<Name> {
  return new Live(name, input)
}
