/**
 * Calls of a window that change something, begun in the order in which it sent them. A browser sends each over whatever connection
 * is free: one over a connection that is there overtakes one whose connection is still being made, and an older value would win.
 */
import { setTimeout as pause } from 'node:timers/promises'

/** Header of such a call: the window, the number of the call, and the number of the one it comes after; 0: of none. */
export const orderHeader = 'standwell-order'

/** [ms] for a call that is never seen, as one that was broken off on its way. */
const patience = 2000

/** Numbers of a window that are remembered: many more than are on their way at once. */
const remembered = 200

export class InOrder {
  readonly #begun = new Map<string, Set<number>>()
  readonly #waiting = new Map<string, () => void>()

  /**
   * @param header as the window gave it; without one, or with one of another form, it is begun at once
   * @param begin begins the call before it returns
   */
  async run<Reply>(header: string | undefined, begin: () => Promise<Reply>): Promise<Reply> {
    const [, window = '', number = '', after = ''] = /^([\w-]{1,40}) (\d{1,9}) (\d{1,9})$/.exec(header ?? '') ?? []
    if (window === '') return begin()
    const begun = this.#begun.get(window) ?? new Set<number>()
    this.#begun.set(window, begun)
    if (Number(after) > 0 && !begun.has(Number(after))) await this.#seen(`${window} ${after}`)
    const reply = begin()
    begun.add(Number(number))
    for (const old of begun) if (begun.size > remembered) begun.delete(old)
    const key = `${window} ${number}`
    this.#waiting.get(key)?.()
    this.#waiting.delete(key)
    return reply
  }

  async #seen(key: string): Promise<void> {
    const isSeen = new Promise<void>((resolve) => this.#waiting.set(key, resolve))
    await Promise.race([isSeen, pause(patience, undefined, { ref: false })])
    this.#waiting.delete(key)
  }
}
