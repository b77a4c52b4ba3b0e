/** A query that reruns when the tables it looks at are announced. Made in a component; stops with it. */
import type { CallName, GivenInput, News, Output } from '../../src-shared/api.ts'
import { api, type TableName } from '../../src-shared/api.ts'
import type { Problem } from '../../src-shared/problem.ts'
import { call, listen, listenAhead } from './call.ts'

type Api = typeof api
export type ReadName = { [Name in CallName]: Api[Name]['kind'] extends 'read' ? Name : never }[CallName]

/**
 * `value` is undefined until the first answer and stays at the last good one while a newer is on its way.
 * Of answers that overtake one another only the one asked for last counts.
 */
export class Live<Name extends ReadName> {
  value = $state.raw<Output<Name> | undefined>(undefined)
  problems = $state.raw<readonly Problem[]>([])
  isLoading = $state(true)
  readonly #name: Name
  readonly #input: () => GivenInput<Name> | null
  #turn = 0

  /** @param input a function, so that what it reads is followed; null asks for nothing */
  constructor(name: Name, input: () => GivenInput<Name> | null) {
    this.#name = name
    this.#input = input
    $effect(() => {
      const given = input()
      void this.#ask(given)
    })
    $effect(() => listen((news) => this.#hear(news)))
    $effect(() => listenAhead((tables) => this.#looksAt(tables) && void this.#ask(this.#input())))
  }

  #looksAt(tables: readonly TableName[]): boolean {
    return tables.some((table) => api[this.#name].tables.some((own) => own === table))
  }

  #hear(news: News) {
    const concerns =
      (news.kind === 'changed' && this.#looksAt(news.tables)) || (news.kind === 'engine' && news.state === 'restarted')
    if (concerns) void this.#ask(this.#input())
  }

  async #ask(given: GivenInput<Name> | null) {
    const turn = ++this.#turn
    if (given === null) {
      this.value = undefined
      this.problems = []
      this.isLoading = false
      return
    }
    this.isLoading = true
    const reply = await call(this.#name, given)
    if (turn !== this.#turn) return
    if (reply.ok) this.value = reply.value as Output<Name>
    this.problems = reply.ok ? [] : reply.problems
    this.isLoading = false
  }
}

export function live<Name extends ReadName>(
  name: Name,
  input: () => GivenInput<Name> | null = () => ({}) as GivenInput<Name>,
): Live<Name> {
  return new Live(name, input)
}
