/** The browser's way in, over a real socket: who is let in, who is not, and that nothing but the window is served. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { contentPolicy } from '../../src-shared/page-policy.ts'
import type { Loopback } from '../../src-main/engine/loopback.ts'
import { bodyLimit, openLoopback } from '../../src-main/engine/loopback.ts'
import type { TestEngine } from '../support/engine.ts'
import { startTestEngine } from '../support/engine.ts'

let host: TestEngine
let loopback: Loopback
let folder: string
let port: number

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'standwell-pages-'))
  mkdirSync(join(folder, 'pages'))
  writeFileSync(join(folder, 'pages', 'index.html'), '<!doctype html><title>Standwell</title>')
  writeFileSync(join(folder, 'pages', 'notes.txt'), 'a kind that is never served')
  writeFileSync(join(folder, 'secret.html'), 'outside')
  host = startTestEngine()
  loopback = await openLoopback(host.server, join(folder, 'pages'))
  port = Number(new URL(loopback.address).port)
})
afterAll(async () => {
  await loopback.close()
  await host.close()
  rmSync(folder, { recursive: true, force: true })
})

interface Asked {
  status: number
  headers: Record<string, string | string[] | undefined>
  text: string
}

/** Node's own request, not fetch: fetch tidies paths and forbids setting Host. */
function ask(path: string, headers: Record<string, string> = {}, method = 'GET', body = ''): Promise<Asked> {
  return new Promise((resolve, reject) => {
    const asking = request({ host: '127.0.0.1', port, path, method, headers }, (response) => {
      let text = ''
      response.on('data', (piece) => (text += piece))
      response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, text }))
    })
    asking.on('error', reject)
    asking.end(body)
  })
}

const json = { 'content-type': 'application/json' }
const allowed = () => ({ ...json, 'x-standwell-token': loopback.token })

describe('the window', () => {
  test('is served with its policy', async () => {
    const { status, headers, text } = await ask('/')
    expect(status).toBe(200)
    expect(text).toContain('Standwell')
    expect(headers['content-security-policy']).toBe(contentPolicy)
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers['access-control-allow-origin']).toBeUndefined()
  })

  test.each([
    '/../secret.html',
    '/%2e%2e/secret.html',
    '/..%2fsecret.html',
    '//secret.html',
    '/./../secret.html',
    '/notes.txt',
    '/none.html',
    '/'.repeat(50),
  ])('%s is not served', async (path) => expect((await ask(path)).status).toBe(404))

  test('takes no writing', async () => {
    expect((await ask('/', {}, 'PUT', 'x')).status).toBe(405)
  })
})

describe('a call', () => {
  test('with the token is answered', async () => {
    const { status, text } = await ask('/call/farm.current', allowed(), 'POST', '{}')
    expect(status).toBe(200)
    expect(JSON.parse(text)).toEqual({ ok: true, value: null })
  })

  test.each([
    ['no token', {}],
    ['an empty token', { 'x-standwell-token': '' }],
    ['a wrong token', { 'x-standwell-token': 'A'.repeat(43) }],
  ])('with %s is refused', async (_name, headers) => {
    for (const path of ['/call/farm.current', '/call/no.such'])
      expect((await ask(path, { ...json, ...headers }, 'POST', '{}')).status).toBe(401)
    expect((await ask('/news', headers)).status).toBe(401)
  })

  test('with the token in the address is refused', async () => {
    expect((await ask(`/news?token=${loopback.token}`)).status).toBe(401)
  })

  test.each(['evil.example', 'evil.example:80', '127.0.0.1', '127.0.0.1:1'])(
    'to the host “%s” is refused',
    async (name) => {
      expect((await ask('/call/farm.current', { ...allowed(), host: name }, 'POST', '{}')).status).toBe(403)
      expect((await ask('/', { host: name })).status).toBe(403)
    },
  )

  test.each(['http://evil.example', 'null', 'https://127.0.0.1'])('from the origin %s is refused', async (origin) => {
    expect((await ask('/call/farm.current', { ...allowed(), origin }, 'POST', '{}')).status).toBe(403)
  })

  test('from our own origin is answered', async () => {
    const origin = `http://127.0.0.1:${port}`
    expect((await ask('/call/farm.current', { ...allowed(), origin }, 'POST', '{}')).status).toBe(200)
  })

  test('that a form could send is refused', async () => {
    const form = { ...allowed(), 'content-type': 'text/plain' }
    expect((await ask('/call/farm.current', form, 'POST', '{}')).status).toBe(415)
    expect((await ask('/call/farm.current', allowed())).status).toBe(405)
  })

  test('that is not JSON is a Problem', async () => {
    const { status, text } = await ask('/call/farm.current', allowed(), 'POST', '{')
    expect(status).toBe(400)
    expect(JSON.parse(text)).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
  })

  test('that announces more than 64 MB is refused unread', async () => {
    const headers = { ...allowed(), 'content-length': String(bodyLimit + 1) }
    const status = await new Promise((resolve, reject) => {
      const asking = request(
        { host: '127.0.0.1', port, path: '/call/farm.current', method: 'POST', headers },
        (response) => {
          resolve(response.statusCode)
          asking.destroy()
        },
      )
      asking.on('error', reject)
      asking.flushHeaders()
    })
    expect(status).toBe(413)
  })

  test.each(['__proto__', 'constructor', '', '..%2f..'])('named “%s” is unknown', async (name) => {
    const { text } = await ask(`/call/${name}`, allowed(), 'POST', '{}')
    expect(JSON.parse(text)).toMatchObject({ ok: false, problems: [{ code: 'unknown-call' }] })
  })
})

test('news reaches every listener, first that the engine is ready', async () => {
  const hear = async () => {
    const response = await fetch(`http://127.0.0.1:${port}/news`, { headers: { 'x-standwell-token': loopback.token } })
    const reader = response.body?.pipeThrough(new TextDecoderStream()).getReader()
    let text = ''
    return {
      async until(words: string) {
        while (!text.includes(words)) text += (await reader?.read())?.value ?? ''
        return text
      },
      stop: () => reader?.cancel(),
    }
  }
  const [one, two] = await Promise.all([hear(), hear()])
  await Promise.all([one.until('"ready"'), two.until('"ready"')])
  loopback.say({ kind: 'changed', tables: ['field'] })
  for (const listener of [one, two])
    expect(await listener.until('changed')).toContain('data: {"kind":"changed","tables":["field"]}\n\n')
  await Promise.all([one.stop(), two.stop()])
})

test('two launches have different tokens, and the token is only in the fragment', async () => {
  const other = await openLoopback(host.server, folder)
  expect(other.token).not.toBe(loopback.token)
  expect(new URL(other.address).hash).toBe(`#token=${other.token}`)
  expect(new URL(other.address).hostname).toBe('127.0.0.1')
  await other.close()
})
