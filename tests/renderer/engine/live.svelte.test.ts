/** A live query against a transport of our own: reruns when concerned, shows the newest revision, asks nothing twice, stops. */
import { flushSync } from 'svelte'
import { expect, onTestFinished, test } from 'vitest'
import type { News, Reply, Transport } from '../../../src-shared/api.ts'
import { useTransport } from '../../../src-renderer/engine/call.ts'
import { live, type Live } from '../../../src-renderer/engine/live.svelte.ts'
import { SheetLists, showsUpTo } from '../../../src-renderer/engine/shown-queries.ts'

interface Asked {
  name: string
  answer(reply: unknown): Promise<void>
}

function start() {
  const asked: Asked[] = []
  const hearers = new Set<(news: News) => void>()
  const transport = {
    call: (name: string) =>
      new Promise((resolve) => {
        asked.push({
          name,
          async answer(reply) {
            resolve(reply as Reply)
            await new Promise((done) => setTimeout(done))
          },
        })
      }),
    listen(hear: (news: News) => void) {
      hearers.add(hear)
      return () => hearers.delete(hear)
    },
  } as unknown as Transport
  useTransport(transport)
  let query!: Live<'field.list'>
  const stop = $effect.root(() => {
    query = live('field.list')
  })
  flushSync()
  onTestFinished(() => stop())
  const tell = (news: News) => hearers.forEach((hear) => hear(news))
  const changed = (revision: number, ...tables: ('field' | 'plan' | 'quote')[]) =>
    tell({ kind: 'changed', tables, revision })
  return { asked, hearers, query, stop, tell, changed }
}

/** What a page that is gone to shows before it is answered. */
function shownAtOnce(): unknown {
  let query!: Live<'field.list'>
  const end = $effect.root(() => {
    query = live('field.list')
  })
  flushSync()
  const { value } = query
  end()
  return value
}

const ok = (value: unknown, revision = 1) => ({ ok: true, value, revision })
/** Rows as they are compared: an id and what is in it. */
const row = (id: number, name: string) => ({ id, name })

test('asks once, then again only when one of its tables is announced', async () => {
  const { asked, query, tell, changed } = start()
  expect(asked.map(({ name }) => name)).toEqual(['field.list'])
  expect(query.isLoading).toBe(true)
  await asked[0]?.answer(ok([]))
  expect(query).toMatchObject({ value: [], isLoading: false })
  changed(2, 'plan')
  expect(asked).toHaveLength(1)
  changed(3, 'quote', 'field')
  expect(asked).toHaveLength(2)
  await Promise.resolve()
  tell({ kind: 'engine', state: 'restarted' })
  expect(asked).toHaveLength(3)
})

test('does not ask again for what its answer has already', async () => {
  const { asked, changed } = start()
  await asked[0]?.answer(ok([], 5))
  changed(5, 'field')
  expect(asked).toHaveLength(1)
  changed(6, 'field')
  expect(asked).toHaveLength(2)
})

test('asks anew for news without a revision, as of a file on the disk', async () => {
  const { asked, tell } = start()
  await asked[0]?.answer(ok([], 5))
  tell({ kind: 'changed', tables: ['field'] })
  expect(asked).toHaveLength(2)
})

test('changes announced while it asks are asked for once, after the answer', async () => {
  const { asked, query, changed } = start()
  await Promise.resolve()
  for (const revision of [2, 3, 4]) changed(revision, 'field')
  expect(asked).toHaveLength(1)
  await asked[0]?.answer(ok(['soon'], 2))
  expect(query).toMatchObject({ value: ['soon'], isLoading: true })
  expect(asked).toHaveLength(2)
  await asked[1]?.answer(ok(['last'], 4))
  expect(query).toMatchObject({ value: ['last'], isLoading: false })
  expect(asked).toHaveLength(2)
})

test('an older answer that comes later does not count', async () => {
  const { asked, query, tell } = start()
  await Promise.resolve()
  tell({ kind: 'changed', tables: ['field'] })
  await asked[1]?.answer(ok(['new'], 2))
  await asked[0]?.answer(ok(['old'], 1))
  expect(query.value).toEqual(['new'])
})

test('of one revision the answer asked for last counts', async () => {
  const { asked, query, tell } = start()
  await Promise.resolve()
  tell({ kind: 'changed', tables: ['field'] })
  await asked[1]?.answer(ok(['new'], 1))
  await asked[0]?.answer(ok(['old'], 1))
  expect(query.value).toEqual(['new'])
})

test('what was answered once is there at once, until a table of it changes', async () => {
  const { asked, changed, stop } = start()
  await asked[0]?.answer(ok(['known']))
  expect(shownAtOnce()).toEqual(['known'])
  expect(asked).toHaveLength(2)
  changed(2, 'quote')
  expect(shownAtOnce()).toEqual(['known'])
  changed(3, 'field')
  expect(shownAtOnce()).toBeUndefined()
  stop()
})

test('an answer from before a change is not taken for known after it', async () => {
  const { asked, changed, stop } = start()
  await Promise.resolve()
  changed(2, 'field')
  await asked[0]?.answer(ok(['before'], 1))
  stop()
  expect(shownAtOnce()).toBeUndefined()
})

test('an answer that comes when its page is gone is not taken for known: a change since would not have been told', async () => {
  const { asked, stop } = start()
  stop()
  await asked[0]?.answer(ok(['late']))
  expect(shownAtOnce()).toBeUndefined()
})

test('the rows that a change brings are shown with its reply, and nothing is asked', async () => {
  const { asked, query, changed } = start()
  await asked[0]?.answer(ok([row(1, 'Alder'), row(2, 'Creek')], 4))
  const lists = new SheetLists('field')
  changed(5, 'field')
  await lists.take(5, { rows: [row(2, 'Bank'), row(3, 'Dog Leg')], ids: [1, 2, 3] })
  expect(query.value).toEqual([row(1, 'Alder'), row(2, 'Bank'), row(3, 'Dog Leg')])
  changed(6, 'plan')
  const removing = new SheetLists('field')
  await removing.take(7, { rows: [], ids: [2, 3] })
  changed(7, 'field')
  expect(query.value).toEqual([row(2, 'Bank'), row(3, 'Dog Leg')])
  expect(asked).toHaveLength(1)
})

test('the rows of a change that followed another, which is not shown, are asked for', async () => {
  const { asked, query, changed } = start()
  await asked[0]?.answer(ok([row(1, 'Alder')], 4))
  const lists = new SheetLists('field')
  // Of another window.
  changed(5, 'field')
  changed(6, 'field')
  const shows = lists.take(6, { rows: [row(2, 'Bank')], ids: [1, 2] })
  expect(query.value).toEqual([row(1, 'Alder')])
  await asked[1]?.answer(ok([row(1, 'Elder'), row(2, 'Bank')], 6))
  await shows
  expect(query.value).toEqual([row(1, 'Elder'), row(2, 'Bank')])
  expect(asked).toHaveLength(2)
})

test('who waits for a revision is told when it is shown, or cannot be', async () => {
  const { asked, query, stop } = start()
  await asked[0]?.answer(ok(['before'], 4))
  let [isShown, isOver] = [false, false]
  void showsUpTo('field.list', 6).then(() => (isShown = true))
  expect(asked).toHaveLength(2)
  await asked[1]?.answer(ok(['after'], 6))
  expect(isShown).toBe(true)
  expect(query.value).toEqual(['after'])
  void showsUpTo('field.list', 9).then(() => (isOver = true))
  stop()
  await Promise.resolve()
  await Promise.resolve()
  expect(isOver).toBe(true)
})

test('the line is listened to once, whoever hears, and each hears all', async () => {
  const { asked, hearers, stop, tell } = start()
  let other!: Live<'quote.list'>
  const end = $effect.root(() => {
    other = live('quote.list')
  })
  flushSync()
  expect(other.isLoading).toBe(true)
  expect(hearers.size).toBe(1)
  const before = asked.length
  await Promise.resolve()
  tell({ kind: 'engine', state: 'restarted' })
  expect(asked.slice(before).map(({ name }) => name)).toEqual(['field.list', 'quote.list'])
  stop()
  expect(hearers.size).toBe(1)
  end()
  expect(hearers.size).toBe(0)
})

test('a refusal leaves the last good value standing beside the problems', async () => {
  const { asked, query, changed } = start()
  await asked[0]?.answer(ok(['good']))
  changed(2, 'field')
  await asked[1]?.answer({ ok: false, problems: [{ code: 'no-farm', what: 'No farm is open.', remedy: '' }] })
  expect(query.value).toEqual(['good'])
  expect(query.problems).toHaveLength(1)
})

test('stops listening with its component', () => {
  const { hearers, stop } = start()
  expect(hearers.size).toBe(1)
  stop()
  expect(hearers.size).toBe(0)
})
