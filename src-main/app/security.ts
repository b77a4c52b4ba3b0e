/**
 * What no page may do, whatever it contains: leave, open windows, ask for permissions, speak as someone else.
 * Pages come by a scheme of their own, so that `file:` and its reach over the disk is never used.
 */
import type { WebFrameMain } from 'electron'
import { app, net, protocol, session, shell } from 'electron'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { contentTypeOf, pageFile, pageHeaders } from '../../src-shared/page-policy.ts'
import { home, isOurs, mayOpenOutside, scheme } from './page-trust.ts'

/** Must come before `ready`: later, Electron ignores it. */
export function registerScheme() {
  protocol.registerSchemesAsPrivileged([
    { scheme, privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ])
}

/** The main frame of one of our pages; a null frame has gone or navigated since it spoke. */
export function isFromOurPage(frame: WebFrameMain | null): boolean {
  return frame !== null && frame.parent === null && isOurs(frame.url)
}

/** Before `ready`: Chromium asks for a spelling dictionary in its first moments, whatever a page's rights say. */
export function staySilent() {
  // No name of another computer is ever looked up. The window served while it is worked on is on this one.
  app.commandLine.appendSwitch('host-resolver-rules', 'MAP * ~NOTFOUND, EXCLUDE localhost, EXCLUDE 127.0.0.1')
  app.on('session-created', (made) => {
    made.setSpellCheckerEnabled(false)
    // macOS checks with its own dictionaries and takes no list.
    if (process.platform !== 'darwin') made.setSpellCheckerLanguages([])
    made.setSpellCheckerDictionaryDownloadURL(`${home}nowhere/`)
  })
  app.on('web-contents-created', (_event, contents) => contents.setWebRTCIPHandlingPolicy('disable_non_proxied_udp'))
}

export function lockDown() {
  app.on('web-contents-created', (_event, contents) => {
    contents.on('will-navigate', (event) => event.preventDefault())
    contents.on('will-redirect', (event) => event.preventDefault())
    contents.on('will-frame-navigate', (event) => event.preventDefault())
    contents.on('will-attach-webview', (event) => event.preventDefault())
    contents.setWindowOpenHandler(({ url }) => {
      if (mayOpenOutside(url)) void shell.openExternal(url)
      return { action: 'deny' }
    })
  })
}

/** After `ready`. `pages` is the folder of the built window. */
export function servePages(pages: string) {
  const ours = session.defaultSession
  ours.setPermissionRequestHandler((_contents, _permission, answer) => answer(false))
  ours.setPermissionCheckHandler(() => false)
  ours.setDevicePermissionHandler(() => false)

  protocol.handle(scheme, async (request) => {
    const refused = new Response('Not here.', { status: 404, headers: pageHeaders })
    if (request.method !== 'GET' || !isOurs(request.url)) return refused
    // For those who work on it (start/dev.mjs); what is built to be used has none of this.
    if (import.meta.env.MODE === 'development' && process.env.STANDWELL_DEV_PAGES)
      return net.fetch(process.env.STANDWELL_DEV_PAGES + request.url.slice(home.length))
    const path = request.url.slice(home.length - 1).split(/[?#]/, 1)[0] ?? ''
    const file = pageFile(path)
    const type = file === null ? undefined : contentTypeOf(file)
    const content = file === null || !type ? null : await readFile(join(pages, file)).catch(() => null)
    if (content === null || !type) return refused
    return new Response(new Uint8Array(content), { headers: { ...pageHeaders, 'content-type': type } })
  })
}
