/**
 * Text typed into a form whose items are saved one by one. Each stands on the page until the page shows what was saved,
 * whatever comes back meanwhile. Edits of one item reach the engine in the order typed.
 */
import type { Reply } from '../../src-shared/api.ts'
import type { Problem } from '../../src-shared/problem.ts'

export class PendingEdits<Item extends string> {
  /** Typed, and not shown as saved yet. */
  texts = $state.raw<Partial<Record<Item, string>>>({})
  /** Why an item is not saved; beside the item, with what was typed. */
  wrong = $state.raw<Partial<Record<Item, string>>>({})
  readonly #shows: (revision: number) => Promise<void>
  readonly #now: (item: Item) => unknown
  readonly #sent: Partial<Record<Item, Promise<unknown>>> = {}
  /** What the page showed in an item as its typing began. */
  readonly #seen: Partial<Record<Item, unknown>> = {}

  /**
   * @param shows resolves when the page shows an answer that holds at a revision
   * @param now the value that the page shows as saved
   */
  constructor(shows: (revision: number) => Promise<void>, now: (item: Item) => unknown) {
    this.#shows = shows
    this.#now = now
  }

  type(item: Item, text: string): void {
    if (!(item in this.#seen)) this.#seen[item] = this.#now(item)
    this.texts = { ...this.texts, [item]: text }
  }

  /** Marks an item whose text cannot be read. */
  refuse(item: Item, why: string): void {
    this.wrong = { ...this.wrong, [item]: why }
  }

  /** Shows the saved value again. */
  giveUp(item: Item): void {
    delete this.#seen[item]
    this.texts = without(this.texts, item)
    this.wrong = without(this.wrong, item)
  }

  /** For the keys of a box: Escape shows the saved value again. */
  keysOf(item: Item): (event: KeyboardEvent) => void {
    return ({ key }) => {
      if (key === 'Escape') this.giveUp(item)
    }
  }

  /**
   * Saves one item after its earlier edits.
   * @param send one call that writes this item and nothing else, over what was seen in it
   */
  async save(item: Item, send: (was: unknown) => Promise<Reply>): Promise<void> {
    this.wrong = without(this.wrong, item)
    const text = this.texts[item]
    const turn = (this.#sent[item] ?? Promise.resolve()).then(async () => {
      const reply = await send(this.#seen[item])
      if (reply.ok) await this.#shows(reply.revision)
      // The next edit is over what is here now; after a refusal, once it is typed.
      if (reply.ok && this.texts[item] !== text) this.#seen[item] = this.#now(item)
      else delete this.#seen[item]
      return reply
    })
    this.#sent[item] = turn
    const reply = await turn
    if (!reply.ok) return this.refuse(item, wordsOf(reply.problems))
    // What was typed since is not saved yet.
    if (this.texts[item] === text) this.texts = without(this.texts, item)
  }
}

function without<Item extends string>(all: Partial<Record<Item, string>>, item: Item): Partial<Record<Item, string>> {
  const rest = { ...all }
  delete rest[item]
  return rest
}

const wordsOf = ([first]: readonly Problem[]) => `${first?.what ?? ''} ${first?.remedy ?? ''}`.trim()
