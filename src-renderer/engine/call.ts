/** The one way from the window to the engine. In Electron the preload hands the transport in; else it is loopback. */
import type { CallName, Desk, GivenInput, News, Reply, Transport } from '../../src-shared/api.ts'
import { api } from '../../src-shared/api.ts'
import { openLoopback } from './loopback.ts'
import { forget } from './remembered.ts'
import { refused } from './refused.svelte.ts'

declare global {
  interface Window {
    /** Given by the preload; absent in a browser. */
    standwell?: Desk
  }
}

let transport: Transport | null = null

/** For tests, and for nothing else. */
export function useTransport(other: Transport): void {
  stopHearing?.()
  stopHearing = null
  hearers.clear()
  forget(null)
  transport = other
}

function theTransport(): Transport {
  transport ??= window.standwell ? throughDesk(window.standwell) : openLoopback()
  return transport
}

function throughDesk(desk: Desk): Transport {
  return {
    call: async <Name extends CallName>(name: Name, input: GivenInput<Name>) =>
      JSON.parse(await desk.call(name, input)) as Reply<Name>,
    listen: (hear) => desk.listen(hear),
  }
}

/** Questions asked in this very moment: several parts that hear the same news and show the same are answered by one. */
const asked = new Map<string, Promise<unknown>>()

/** Never throws: what went wrong on the way is a Problem like any other. */
export function call<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Reply<Name>> {
  if (api[name].kind !== 'read') return send(name, input)
  const question = `${name} ${JSON.stringify(input)}`
  const open = asked.get(question) as Promise<Reply<Name>> | undefined
  if (open) return open
  const answer = send(name, input)
  // No longer than that: what is asked after a change must not be answered with what was before it.
  if (asked.size === 0) queueMicrotask(() => asked.clear())
  asked.set(question, answer)
  return answer
}

async function send<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Reply<Name>> {
  try {
    const reply = await theTransport().call(name, input)
    if (!reply.ok && reply.problems[0]?.code === 'closed-season') refused.count += 1
    return reply
  } catch {
    return { ok: false, problems: [unreachable] }
  }
}

const hearers = new Set<(news: News) => void>()
let stopHearing: (() => void) | null = null

/** The line is listened to once, whoever hears. Returns a function that stops listening. */
export function listen(hear: (news: News) => void): () => void {
  hearers.add(hear)
  stopHearing ??= theTransport().listen(tell)
  return () => {
    hearers.delete(hear)
    if (hearers.size > 0) return
    stopHearing?.()
    stopHearing = null
  }
}

function tell(news: News) {
  if (news.kind === 'changed') forget(news.tables)
  else if (news.kind === 'engine') forget(null)
  for (const hear of [...hearers]) hear(news)
}

const unreachable = {
  code: 'engine-stopped' as const,
  what: 'The part of Standwell that keeps the farm does not answer.',
  remedy: 'Wait a moment and try again; if it stays so, start Standwell anew. What was saved is safe.',
}
