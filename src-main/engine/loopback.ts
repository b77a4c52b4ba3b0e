/**
 * The window served to a browser on this machine. Bound to 127.0.0.1 only; calls need the launch's token in a cookie, and Host and
 * Origin must be ours, so neither another site (by rebinding) nor another user can call in. The token stands in no address: an
 * address holds a ticket that is exchanged for the cookie once, so what a history or a list of processes keeps opens nothing.
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
import { InOrder, orderHeader } from './in-order.ts'
import type { Server } from './serve.ts'

export interface Loopback {
  /** With a ticket that opens one window, once; the next is another. */
  readonly address: string
  token: string
  say(news: News): void
  close(): Promise<void>
}

/** A boundary file of a whole county is a few megabytes; past this it is a mistake or an attack. */
export const bodyLimit = 64 * 1024 * 1024
const heartbeat = 20_000

/** @param spent hears the next address when one was used */
export async function openLoopback(
  server: Server,
  pages: string,
  port = 0,
  spent: (address: string) => void = () => undefined,
): Promise<Loopback> {
  const token = secret()
  // Browsers send a cookie to every port of a host, but only below its path: another program on this machine, whose page is opened
  // in the same browser, does not know this one.
  const folder = `/${secret()}/`
  let ticket = secret()
  const hearers = new Set<ServerResponse>()
  const inOrder = new InOrder()
  let hosts: string[] = []
  let bound = 0
  /** Digests of the tickets that were used. */
  const used = new Set<string>()
  const addressNow = () => `http://127.0.0.1:${bound}/enter/${ticket}`

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
    const whole = (request.url ?? '').split(/[?#]/, 1)[0] ?? ''
    if (whole.startsWith('/enter/')) return enter(request, response, whole.slice('/enter/'.length))
    const path = whole.startsWith(folder) ? whole.slice(folder.length - 1) : whole
    if (path.startsWith('/call/') || path === '/news') {
      // A browser says whether another site asks, whatever the page's code says.
      const site = request.headers['sec-fetch-site']
      if (site !== undefined && site !== 'same-origin') return plain(response, 403, 'Wrong site.')
      if (!isSame(cookieOf(request), token)) return plain(response, 401, 'Open the address printed at start.')
      return path === '/news' ? listen(request, response) : call(request, response, path.slice('/call/'.length))
    }
    return page(request, response, path)
  }

  const cookieName = () => `standwell-${bound}`

  function cookieOf(request: IncomingMessage): string | undefined {
    const pairs = (request.headers.cookie ?? '').split(/; */)
    return pairs.find((pair) => pair.startsWith(`${cookieName()}=`))?.slice(cookieName().length + 1)
  }

  function enter(request: IncomingMessage, response: ServerResponse, given: string) {
    if (request.method !== 'GET') return plain(response, 405, 'GET only.')
    // What a browser fetches before it is asked to would use up the ticket.
    if (/prefetch/i.test(`${String(request.headers['sec-purpose'])} ${String(request.headers['purpose'])}`))
      return plain(response, 403, 'Open the address itself.')
    const isFirst = isSame(given, ticket)
    // The same address once more, in a browser that was let in: its cookie is sent only below the folder, so it goes there.
    if (!isFirst && !used.has(digestOf(given).toString('hex')))
      return plain(response, 403, 'This is no address of this start.')
    if (isFirst) {
      used.add(digestOf(ticket).toString('hex'))
      ticket = secret()
      response.setHeader('set-cookie', `${cookieName()}=${token}; Path=${folder}; HttpOnly; SameSite=Strict`)
      spent(addressNow())
    }
    response.writeHead(303, { location: folder, 'cache-control': 'no-store' })
    response.end()
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
    const order = request.headers[orderHeader]
    return json(response, 200, await inOrder.run(order?.toString(), () => server.call(name, input)))
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
  bound = (http.address() as AddressInfo).port
  hosts = [`127.0.0.1:${bound}`, `localhost:${bound}`]
  const beat = setInterval(() => hearers.forEach((hearer) => hearer.write(': still here\n\n')), heartbeat)

  return {
    token,
    get address() {
      return addressNow()
    },
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

const secret = () => randomBytes(32).toString('base64url')

const digestOf = (text: string) => createHash('sha256').update(text).digest()

/** Digests have one length, so the comparison tells nothing about the secret's. */
function isSame(given: string | undefined, own: string): boolean {
  return given !== undefined && timingSafeEqual(digestOf(given), digestOf(own))
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
