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
const cookie = (value = loopback.token) => ({ cookie: `standwell-${port}=${value}` })
const allowed = () => ({ ...json, ...cookie() })

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
  test('with the cookie is answered', async () => {
    const { status, text } = await ask('/call/farm.current', allowed(), 'POST', '{}')
    expect(status).toBe(200)
    expect(JSON.parse(text)).toMatchObject({ ok: true, value: null })
  })

  test.each([
    ['no cookie', {}],
    ['an empty cookie', { cookie: 'standwell=' }],
    ['a cookie of another port', { cookie: `standwell-1=${'A'.repeat(43)}` }],
  ])('with %s is refused', async (_name, headers) => {
    for (const path of ['/call/farm.current', '/call/no.such'])
      expect((await ask(path, { ...json, ...headers }, 'POST', '{}')).status).toBe(401)
    expect((await ask('/news', headers)).status).toBe(401)
  })

  test('with a wrong cookie is refused', async () => {
    expect((await ask('/news', cookie('A'.repeat(43)))).status).toBe(401)
    expect((await ask('/news', cookie(''))).status).toBe(401)
  })

  test('with the token in the address or in a header is refused', async () => {
    expect((await ask(`/news?token=${loopback.token}`)).status).toBe(401)
    expect((await ask('/news', { 'x-standwell-token': loopback.token })).status).toBe(401)
  })

  test.each(['cross-site', 'same-site', 'none'])('that a browser marks as %s is refused', async (site) => {
    const headers = { ...allowed(), 'sec-fetch-site': site }
    expect((await ask('/call/farm.current', headers, 'POST', '{}')).status).toBe(403)
    expect((await ask('/news', headers)).status).toBe(403)
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
    const response = await fetch(`http://127.0.0.1:${port}/news`, { headers: cookie() })
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

test('two launches have different tokens, and no address holds one', async () => {
  const other = await openLoopback(host.server, folder)
  expect(other.token).not.toBe(loopback.token)
  expect(other.address).not.toContain(other.token)
  expect(new URL(other.address).hostname).toBe('127.0.0.1')
  await other.close()
})

describe('the address', () => {
  const pathOf = (address: string) => new URL(address).pathname

  test('is exchanged for a cookie once, and the next one for another browser', async () => {
    const first = pathOf(loopback.address)
    const entered = await ask(first)
    expect(entered.status).toBe(303)
    const given = String(entered.headers['set-cookie'])
    const home = String(entered.headers['location'])
    expect(given).toBe(`standwell-${port}=${loopback.token}; Path=${home}; HttpOnly; SameSite=Strict`)
    // What a history keeps is neither the token nor a way to it.
    expect(`${first} ${home}`).not.toContain(loopback.token)
    expect((await ask(home)).text).toContain('Standwell')
    const body = (await ask(`${home}call/farm.current`, allowed(), 'POST', '{}')).text
    expect(JSON.parse(body)).toMatchObject({ ok: true, value: null })
    const again = await ask(first)
    expect([again.status, again.headers['location'], again.headers['set-cookie']]).toEqual([303, home, undefined])
    expect(pathOf(loopback.address)).not.toBe(first)
    expect((await ask(pathOf(loopback.address))).headers['set-cookie']).toBeDefined()
  })

  test('is not used up by a browser that fetches ahead, nor by a guess', async () => {
    const path = pathOf(loopback.address)
    expect((await ask(path, { 'sec-purpose': 'prefetch' })).status).toBe(403)
    for (const guess of ['/enter/', `/enter/${'A'.repeat(43)}`, `${path}x`]) {
      const { status, headers } = await ask(guess)
      expect([status, headers['set-cookie']]).toEqual([403, undefined])
    }
    expect((await ask(path, {}, 'POST')).status).toBe(405)
    expect((await ask(path)).headers['set-cookie']).toHaveLength(1)
  })
})
