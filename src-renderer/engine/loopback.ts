/**
 * The engine behind a server on this machine. The browser was given a cookie as it came in and sends it with every request; no
 * code of the page can read it. News arrives as a stream.
 */
import type { CallName, GivenInput, News, Reply, Transport } from '../../src-shared/api.ts'
import { api } from '../../src-shared/api.ts'
import { fail } from '../../src-shared/problem.ts'

const firstPause = 1_000
const longestPause = 8_000

export function openLoopback(): Transport {
  const hearers = new Set<(news: News) => void>()
  let isListening = false
  /** Tells this window from others, for the order of its changes. */
  const own = crypto.randomUUID()
  let last = 0
  const underway = new Set<number>()

  async function call<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Reply<Name>> {
    if (api[name].kind === 'read') return ask(name, input, {})
    const number = (last += 1)
    // Connections overtake one another: the engine is told which change this one comes after.
    const order = `${own} ${number} ${Math.max(0, ...underway)}`
    underway.add(number)
    try {
      return await ask(name, input, { 'standwell-order': order })
    } finally {
      underway.delete(number)
    }
  }

  async function ask<Name extends CallName>(
    name: Name,
    input: GivenInput<Name>,
    headers: Record<string, string>,
  ): Promise<Reply<Name>> {
    const response = await fetch(`call/${name}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', ...headers },
      body: JSON.stringify(input),
    })
    if (response.status === 401) return fail(notOurs)
    return (await response.json()) as Reply<Name>
  }

  function tell(news: News) {
    for (const hear of [...hearers]) hear(news)
  }

  async function keepListening() {
    let pause = firstPause
    let wasLost = false
    for (;;) {
      try {
        const response = await fetch('news')
        if (response.status === 401) return tell({ kind: 'engine', state: 'stopped' })
        if (!response.body) throw new Error('The news has no body.')
        // Whatever was announced while the line was down was not heard: everything is asked for again.
        if (wasLost) tell({ kind: 'engine', state: 'restarted' })
        pause = firstPause
        await readNews(response.body, tell)
      } catch {
        // Below: the same as a stream that ended.
      }
      if (!wasLost) tell({ kind: 'engine', state: 'stopped' })
      wasLost = true
      await new Promise((resolve) => setTimeout(resolve, pause))
      pause = Math.min(pause * 2, longestPause)
    }
  }

  return {
    call,
    listen(hear) {
      hearers.add(hear)
      if (!isListening) {
        isListening = true
        void keepListening()
      }
      return () => hearers.delete(hear)
    },
  }
}

/** Server-sent events: blocks between empty lines; lines that do not begin with data are heartbeats. */
export async function readNews(body: ReadableStream<Uint8Array>, tell: (news: News) => void): Promise<void> {
  const reader = body.pipeThrough(new TextDecoderStream() as ReadableWritablePair<string, Uint8Array>).getReader()
  let rest = ''
  for (;;) {
    const { done, value } = await reader.read()
    if (done) return
    const blocks = (rest + value).split('\n\n')
    rest = blocks.pop() ?? ''
    for (const block of blocks) {
      if (block.startsWith('data: ')) tell(JSON.parse(block.slice('data: '.length)) as News)
    }
  }
}

const notOurs = {
  code: 'engine-stopped' as const,
  what: 'This page belongs to an earlier start of Standwell.',
  remedy: 'Open the address that Standwell printed last.',
}
