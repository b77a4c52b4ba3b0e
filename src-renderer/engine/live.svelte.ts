/**
 * A query that reruns when the tables it looks at are announced. Made in a component; stops with it. Of two answers it shows
 * the one of the greater revision, so that nothing that was acknowledged is shown older again.
 */
import { untrack } from 'svelte'
import type { CallName, GivenInput, News, Output, Reply } from '../../src-shared/api.ts'
import { api, type TableName } from '../../src-shared/api.ts'
import type { Problem } from '../../src-shared/problem.ts'
import { call, listen } from './call.ts'
import { remember, remembered } from './remembered.ts'
import { keepSame } from './same.ts'
import { shown } from './shown-queries.ts'

type Api = typeof api
export type ReadName = { [Name in CallName]: Api[Name]['kind'] extends 'read' ? Name : never }[CallName]

/** Before anything was answered. */
const none = -1

/** `value` is undefined until the first answer and stays at the last good one while a newer is on its way. */
export class Live<Name extends ReadName> {
  value = $state.raw<Output<Name> | undefined>(undefined)
  problems = $state.raw<readonly Problem[]>([])
  isLoading = $state(true)
  readonly #name: Name
  readonly #input: () => GivenInput<Name> | null
  /** Null: its component is gone. */
  #question: string | null = ''
  #turn = 0
  /** The turn whose answer is shown: of one revision, what was asked later counts. */
  #shownTurn = 0
  /** Of what is shown. */
  #revision = none
  /** Up to here what is shown holds: what was announced since looks at other tables. */
  #through = none
  /** What was announced last of its tables. */
  #wanted = none
  /** Questions not answered yet. */
  #underway = 0
  /** Changes on their way whose replies bring its rows. */
  #awaited = 0
  #waiting: { revision: number; done: () => void }[] = []

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
    $effect(() => () => this.#end())
  }

  get name(): CallName {
    return this.#name
  }

  #looksAt(tables: readonly TableName[]): boolean {
    return tables.some((table) => api[this.#name].tables.some((own) => own === table))
  }

  #hear(news: News) {
    if (news.kind === 'engine' && news.state === 'restarted') {
      // What was announced meanwhile was not heard.
      this.#through = none
      void this.#ask(this.#input())
    } else if (news.kind === 'changed') this.#hearChanged(news.tables, news.revision)
  }

  #hearChanged(tables: readonly TableName[], revision: number | undefined) {
    if (!this.#looksAt(tables)) {
      if (revision === this.#through + 1) this.#through = revision
    } else if (revision === undefined) void this.#ask(this.#input())
    else this.#want(revision)
  }

  #want(revision: number) {
    this.#wanted = Math.max(this.#wanted, revision)
    if (this.#wanted > this.#through && this.#underway === 0 && this.#awaited === 0) void this.#ask(this.#input())
  }

  /** Resolves when what is shown holds at this revision, or cannot be had. */
  upTo(revision: number): Promise<void> {
    if (this.#through >= revision || this.#question === null) return Promise.resolve()
    const done = new Promise<void>((resolve) => this.#waiting.push({ revision, done: resolve }))
    this.#want(revision)
    return done
  }

  /** The reply to a change will bring what it changes here: until then it is not asked for. @returns the end of it */
  awaitRows(): () => void {
    this.#awaited += 1
    return () => {
      this.#awaited -= 1
      if (this.#question !== null) this.#want(this.#wanted)
    }
  }

  /**
   * What a change has made of the value. Only of the value from right before it: else it is asked for.
   * @param revision of the change
   * @param changed gives null where it cannot be told
   */
  take(revision: number, changed: (value: unknown) => unknown): void {
    if (this.value === undefined || this.#through !== revision - 1) return
    const value = changed(this.value)
    if (value === null) return
    this.value = keepSame(this.value, value as Output<Name>)
    this.#revision = this.#through = revision
    this.#settle()
  }

  async #ask(given: GivenInput<Name> | null) {
    const turn = ++this.#turn
    const question = JSON.stringify(given)
    if (question !== this.#question) {
      // Answers to what was asked of something else are of no use any more.
      this.#question = question
      this.#revision = this.#through = none
      this.#underway = 0
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
    this.#underway += 1
    const reply = await call(this.#name, given)
    if (question !== this.#question) return
    this.#underway -= 1
    this.#show(turn, reply)
    this.isLoading = this.#underway > 0
    this.#settle(!reply.ok)
    // Read before the last change of it: once more.
    if (reply.ok) this.#want(this.#wanted)
    if (reply.ok && this.#underway === 0 && this.#wanted <= this.#through) remember(this.#name, question, this.value)
  }

  #show(turn: number, reply: Reply<Name>) {
    const revision = reply.ok ? reply.revision : undefined
    const isOlder =
      revision === undefined || revision === this.#revision ? turn < this.#shownTurn : revision < this.#revision
    if (isOlder) return
    this.#shownTurn = turn
    if (revision !== undefined) {
      this.#revision = revision
      this.#through = Math.max(this.#through, revision)
    }
    if (reply.ok) this.value = keepSame(this.value, reply.value as Output<Name>)
    this.problems = keepSame(this.problems, reply.ok ? [] : reply.problems)
  }

  /** @param isOver nothing better is to come */
  #settle(isOver = false) {
    const ready = this.#waiting.filter(({ revision }) => isOver || revision <= this.#through)
    this.#waiting = this.#waiting.filter((each) => !ready.includes(each))
    for (const { done } of ready) done()
  }

  #end() {
    this.#question = null
    this.#settle(true)
  }
}

export function live<Name extends ReadName>(
  name: Name,
  input: () => GivenInput<Name> | null = () => ({}) as GivenInput<Name>,
): Live<Name> {
  return new Live(name, input)
}
