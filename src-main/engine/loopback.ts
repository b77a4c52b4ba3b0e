/**
 * The window served to a browser on this machine. Bound to 127.0.0.1 only; calls need the launch's token in a
 * header, and Host and Origin must be ours, so neither another site (by rebinding) nor another user can call in.
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { createServer as createHttpServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { join } from 'node:path'
import type { News } from '../../src-shared/api.ts'
import { besideOthers, contentTypeOf, pageFile } from '../../src-shared/page-policy.ts'
import { fail } from '../../src-shared/problem.ts'
import type { Server } from './serve.ts'

export interface Loopback {
  /** With the token in the fragment, which browsers never send. */
  address: string
  token: string
  say(news: News): void
  close(): Promise<void>
}

/** A boundary file of a whole county is a few megabytes; past this it is a mistake or an attack. */
export const bodyLimit = 64 * 1024 * 1024
const heartbeat = 20_000

export async function openLoopback(server: Server, pages: string, port = 0): Promise<Loopback> {
  const token = randomBytes(32).toString('base64url')
  const hearers = new Set<ServerResponse>()
  let hosts: string[] = []

  const http = createHttpServer((request, response) => {
    answer(request, response).catch(() => {
      if (response.headersSent) response.destroy()
      else plain(response, 500, 'Standwell made a mistake of its own.')
    })
  })

  async function answer(request: IncomingMessage, response: ServerResponse) {
    for (const [header, value] of Object.entries(besideOthers)) response.setHeader(header, value)
    const { host, origin } = request.headers
    if (host === undefined || !hosts.includes(host)) return plain(response, 403, 'Wrong host.')
    if (origin !== undefined && origin !== `http://${host}`) return plain(response, 403, 'Wrong origin.')
    // Split by hand: URL would tidy `/../` away before it can be refused.
    const path = (request.url ?? '').split(/[?#]/, 1)[0] ?? ''
    if (path.startsWith('/call/') || path === '/news') {
      if (!isToken(request.headers['x-standwell-token']))
        return plain(response, 401, 'Open the address printed at start.')
      return path === '/news' ? listen(request, response) : call(request, response, path.slice('/call/'.length))
    }
    return page(request, response, path)
  }

  function isToken(given: string | string[] | undefined): boolean {
    // Digests have one length, so the comparison tells nothing about the token's.
    const digest = (text: string) => createHash('sha256').update(text).digest()
    return typeof given === 'string' && timingSafeEqual(digest(given), digest(token))
  }

  async function call(request: IncomingMessage, response: ServerResponse, name: string) {
    if (request.method !== 'POST') return plain(response, 405, 'POST only.')
    if (!/^application\/json\b/.test(request.headers['content-type'] ?? '')) return plain(response, 415, 'JSON only.')
    const body = await bodyOf(request)
    if (body === null) {
      response.setHeader('connection', 'close')
      return plain(response, 413, 'More than 64 MB.')
    }
    let input: unknown
    try {
      input = JSON.parse(body)
    } catch {
      const remedy = 'Reload the window and try again.'
      return json(response, 400, fail({ code: 'bad-value', what: 'The call is not JSON.', remedy }))
    }
    return json(response, 200, await server.call(name, input))
  }

  function listen(request: IncomingMessage, response: ServerResponse) {
    if (request.method !== 'GET') return plain(response, 405, 'GET only.')
    response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' })
    response.write(event({ kind: 'engine', state: 'ready' }))
    hearers.add(response)
    response.on('close', () => hearers.delete(response))
  }

  async function page(request: IncomingMessage, response: ServerResponse, path: string) {
    if (request.method !== 'GET' && request.method !== 'HEAD') return plain(response, 405, 'GET only.')
    const file = pageFile(path)
    const type = file === null ? undefined : contentTypeOf(file)
    const content = file === null || !type ? null : await readFile(join(pages, file)).catch(() => null)
    if (content === null || !type) return plain(response, 404, 'Not here.')
    response.writeHead(200, { 'content-type': type, 'content-length': content.length })
    response.end(request.method === 'HEAD' ? undefined : content)
  }

  await new Promise<void>((resolve, reject) => {
    http.once('error', reject)
    http.listen(port, '127.0.0.1', resolve)
  })
  const bound = (http.address() as AddressInfo).port
  hosts = [`127.0.0.1:${bound}`, `localhost:${bound}`]
  const beat = setInterval(() => hearers.forEach((hearer) => hearer.write(': still here\n\n')), heartbeat)

  return {
    token,
    address: `http://127.0.0.1:${bound}/#token=${token}`,
    say: (news) => hearers.forEach((hearer) => hearer.write(event(news))),
    async close() {
      clearInterval(beat)
      for (const hearer of hearers) hearer.end()
      const shut = new Promise((resolve) => http.close(resolve))
      http.closeAllConnections()
      await shut
    },
  }
}

const event = (news: News) => `data: ${JSON.stringify(news)}\n\n`

function plain(response: ServerResponse, status: number, text: string) {
  response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8' })
  response.end(`${text}\n`)
}

function json(response: ServerResponse, status: number, value: unknown) {
  response.writeHead(status, { 'content-type': 'application/json; charset=utf-8', 'cache-control': 'no-store' })
  response.end(JSON.stringify(value))
}

/** The whole body as text, or null once it is past the limit; what is past it is not kept. */
async function bodyOf(request: IncomingMessage): Promise<string | null> {
  if (Number(request.headers['content-length'] ?? 0) > bodyLimit) return null
  const pieces: Buffer[] = []
  let size = 0
  for await (const piece of request as AsyncIterable<Buffer>) {
    size += piece.length
    if (size > bodyLimit) return null
    pieces.push(piece)
  }
  return Buffer.concat(pieces).toString('utf8')
}
