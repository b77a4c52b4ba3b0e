/** A live query against a transport of our own: reruns when concerned, keeps only the newest answer, stops. */
import { flushSync } from 'svelte'
import { expect, test } from 'vitest'
import type { News, Reply, Transport } from '../../../src-shared/api.ts'
import { foretell, useTransport } from '../../../src-renderer/engine/call.ts'
import { live, type Live } from '../../../src-renderer/engine/live.svelte.ts'

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
  return { asked, hearers, query, stop, tell: (news: News) => hearers.forEach((hear) => hear(news)) }
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

const ok = (value: unknown) => ({ ok: true, value })

test('asks once, then again only when one of its tables is announced', async () => {
  const { asked, query, tell } = start()
  expect(asked.map(({ name }) => name)).toEqual(['field.list'])
  expect(query.isLoading).toBe(true)
  await asked[0]?.answer(ok([]))
  expect(query).toMatchObject({ value: [], isLoading: false })
  tell({ kind: 'changed', tables: ['plan'] })
  expect(asked).toHaveLength(1)
  tell({ kind: 'changed', tables: ['quote', 'field'] })
  expect(asked).toHaveLength(2)
  await Promise.resolve()
  tell({ kind: 'engine', state: 'restarted' })
  expect(asked).toHaveLength(3)
})

test('asks as soon as a change of its tables is sent, and again when that is announced', async () => {
  const { asked, query, tell } = start()
  await asked[0]?.answer(ok(['before']))
  foretell(['quote'])
  expect(asked).toHaveLength(1)
  foretell(['field'])
  expect(asked).toHaveLength(2)
  await asked[1]?.answer(ok(['after']))
  expect(query.value).toEqual(['after'])
  tell({ kind: 'changed', tables: ['field'] })
  expect(asked).toHaveLength(3)
})

test('an older answer that comes later does not count', async () => {
  const { asked, query, tell } = start()
  await Promise.resolve()
  tell({ kind: 'changed', tables: ['field'] })
  await asked[1]?.answer(ok(['new']))
  await asked[0]?.answer(ok(['old']))
  expect(query.value).toEqual(['new'])
})

test('an answer is shown though another was asked for since', async () => {
  const { asked, query, tell } = start()
  await Promise.resolve()
  foretell(['field'])
  await Promise.resolve()
  tell({ kind: 'changed', tables: ['field'] })
  await asked[1]?.answer(ok(['soon']))
  expect(query).toMatchObject({ value: ['soon'], isLoading: true })
  await asked[2]?.answer(ok(['last']))
  expect(query).toMatchObject({ value: ['last'], isLoading: false })
})

test('what was answered once is there at once, until a table of it changes', async () => {
  const { asked, stop } = start()
  await asked[0]?.answer(ok(['known']))
  expect(shownAtOnce()).toEqual(['known'])
  expect(asked).toHaveLength(2)
  foretell(['quote'])
  expect(shownAtOnce()).toEqual(['known'])
  foretell(['field'])
  expect(shownAtOnce()).toBeUndefined()
  stop()
})

test('an answer from before a change is not taken for known after it', async () => {
  const { asked, tell, stop } = start()
  await Promise.resolve()
  tell({ kind: 'changed', tables: ['field'] })
  await asked[0]?.answer(ok(['before']))
  stop()
  expect(shownAtOnce()).toBeUndefined()
})

test('an answer that comes when its page is gone is not taken for known: a change since would not have been told', async () => {
  const { asked, stop } = start()
  stop()
  await asked[0]?.answer(ok(['late']))
  expect(shownAtOnce()).toBeUndefined()
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
  const { asked, query, tell } = start()
  await asked[0]?.answer(ok(['good']))
  tell({ kind: 'changed', tables: ['field'] })
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
