/**
 * What a list shows while changes of this window and of others, their replies, answers and news overtake one another on the way:
 * no row is shown older than it was, none older than what was acknowledged, and when all has come it is as the farm has it.
 */
import { flushSync } from 'svelte'
import { expect, test } from 'vitest'
import type { News, Reply, Transport } from '../../../src-shared/api.ts'
import { call, useTransport } from '../../../src-renderer/engine/call.ts'
import { live, type Live } from '../../../src-renderer/engine/live.svelte.ts'
import { SheetLists } from '../../../src-renderer/engine/shown-queries.ts'
import { randomFrom, type Random } from '../../plan/random.ts'

/** `n` counts the changes of a row: the greater, the newer. */
interface Row {
  id: number
  n: number
}

/** An engine as it is told from outside: calls are handled in turn, what it says travels as long as it likes. */
class FakeFarm {
  rows: Row[] = [1, 2, 3, 4].map((id) => ({ id, n: 0 }))
  revision = 100
  /** Calls not handled yet: changes in their order, reads in theirs. */
  readonly changes: (() => void)[] = []
  readonly reads: (() => void)[] = []
  /** Replies on their way, in any order; news arrives in its own. */
  readonly replies: (() => void)[] = []
  readonly news: (() => void)[] = []
  asked = 0
  readonly #hearers = new Set<(news: News) => void>()
  #next = 10

  readonly transport = {
    call: (name: string, input: { id?: number; kind?: string }) =>
      new Promise<Reply>((resolve) => {
        const reply = (answer: unknown) => void this.replies.push(() => resolve(answer as Reply))
        if (name === 'field.list') {
          this.asked += 1
          this.reads.push(() => {
            reply({ ok: true, value: structuredClone(this.rows), revision: this.revision })
          })
        } else this.changes.push(() => reply(this.change(input.kind ?? 'edit', input.id ?? 0)))
      }),
    listen: (hear: (news: News) => void) => {
      this.#hearers.add(hear)
      return () => this.#hearers.delete(hear)
    },
  } as unknown as Transport

  change(kind: string, id: number) {
    const touched = kind === 'add' ? (this.#next += 1) : id
    if (kind === 'add') this.rows = [{ id: touched, n: 1 }, ...this.rows]
    else if (kind === 'remove') this.rows = this.rows.filter((row) => row.id !== id)
    else this.rows = this.rows.map((row) => (row.id === id ? { id, n: row.n + 1 } : row))
    const revision = this.#announce(['field'])
    const rows = this.rows.filter((row) => row.id === touched)
    return { ok: true, value: { rows, ids: this.rows.map((row) => row.id) }, revision }
  }

  other() {
    this.#announce(['quote'])
  }

  /** As of a file on the disk: nobody counts what it changes. */
  uncounted() {
    this.news.push(() => this.#hearers.forEach((hear) => hear({ kind: 'changed', tables: ['field'] })))
  }

  #announce(tables: readonly ('field' | 'quote')[]): number {
    const revision = (this.revision += 1)
    const news: News = { kind: 'changed', tables, revision }
    this.news.push(() => this.#hearers.forEach((hear) => hear(news)))
    return revision
  }
}

const settle = async () => {
  for (let n = 0; n < 12; n += 1) await Promise.resolve()
}

/** As a grid does it. */
async function change(kind: string, id: number): Promise<readonly Row[]> {
  const lists = new SheetLists('field')
  const reply = (await call('sheet.change', { kind, id } as never)) as unknown as Reply<'sheet.change'>
  if (!reply.ok) throw new Error('It takes everything.')
  await lists.take(reply.revision, reply.value)
  return reply.value.rows as readonly Row[]
}

async function oneLife(random: Random, steps: number): Promise<{ asked: number; changes: number }> {
  const farm = new FakeFarm()
  useTransport(farm.transport)
  let query!: Live<'field.list'>
  const stop = $effect.root(() => {
    query = live('field.list')
  })
  flushSync()
  const shownOf = () => new Map(((query.value ?? []) as unknown as Row[]).map((row) => [row.id, row.n]))
  let before = shownOf()
  let changes = 0
  const look = () => {
    const now = shownOf()
    for (const [id, n] of now) {
      expect(n, `row ${id} was shown newer before`).toBeGreaterThanOrEqual(before.get(id) ?? 0)
    }
    before = now
  }
  /** Once the reply has been taken the list has what was acknowledged, or waits for an answer that has. */
  const waits: Promise<unknown>[] = []
  const acts: (() => void)[] = [
    () => {
      changes += 1
      const kind = random.pick(['edit', 'edit', 'edit', 'edit', 'add', 'remove'])
      waits.push(
        change(kind, random.pick([1, 2, 3, 4])).then((rows) => {
          const now = shownOf()
          for (const { id, n } of rows) if (now.has(id)) expect(now.get(id)).toBeGreaterThanOrEqual(n)
        }),
      )
    },
    () => void farm.change('edit', random.pick([1, 2, 3, 4])),
    () => farm.other(),
    () => farm.uncounted(),
    () => farm.changes.shift()?.(),
    () => farm.reads.shift()?.(),
    () => farm.replies.splice(random.whole(0, Math.max(0, farm.replies.length - 1)), 1)[0]?.(),
    () => farm.news.shift()?.(),
  ]
  for (let n = 0; n < steps; n += 1) {
    random.pick(acts)()
    await settle()
    look()
  }
  for (let n = 0; n < 200 && [farm.changes, farm.reads, farm.replies, farm.news].some(({ length }) => length); n += 1) {
    for (const queue of [farm.changes, farm.reads, farm.news, farm.replies]) queue.shift()?.()
    await settle()
    look()
  }
  await Promise.all(waits)
  expect(query.value).toEqual(farm.rows)
  expect(query.isLoading).toBe(false)
  stop()
  return { asked: farm.asked, changes }
}

test('in whatever order answers, replies and news come', async () => {
  for (let seed = 1; seed <= 150; seed += 1) {
    await oneLife(randomFrom(seed), 60).catch((error: unknown) => {
      throw new Error(`seed ${seed}`, { cause: error })
    })
  }
})

test('a window alone at its farm asks for a list once, however many rows it changes', async () => {
  const farm = new FakeFarm()
  useTransport(farm.transport)
  let query!: Live<'field.list'>
  const stop = $effect.root(() => {
    query = live('field.list')
  })
  flushSync()
  const all = async () => {
    for (const queue of [farm.changes, farm.reads, farm.news, farm.replies]) while (queue.length > 0) queue.shift()?.()
    await settle()
  }
  await all()
  for (let n = 0; n < 20; n += 1) {
    // Sent before the one before it was answered.
    void change(n % 5 === 4 ? 'add' : 'edit', 1 + (n % 4))
    if (n % 3 === 2) farm.other()
    if (n % 2 === 1) await all()
  }
  await all()
  expect(query.value).toEqual(farm.rows)
  expect(farm.asked).toBe(1)
  stop()
})
