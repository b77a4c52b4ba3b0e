/**
 * The desktop window in a real Electron: its rights as Electron itself reports them, a call through the engine
 * process, and what happens when that process is killed. STANDWELL_TEST_ELECTRON names the program.
 */
import type { ElectronApplication, Page } from '@playwright/test'
import { _electron, expect, test } from '@playwright/test'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { findProgram } from '../tools/chromium.mjs'
import type { Desk, Transport } from '../../src-shared/api.ts'

const program = process.env.STANDWELL_TEST_ELECTRON ?? ''
const project = resolve(import.meta.dirname, '../..')
const ownNode = resolve(project, 'node_modules/node/bin/node')
const node = existsSync(ownNode) ? ownNode : process.execPath
const noDisplay = process.platform === 'linux' && !process.env.DISPLAY

test.skip(!program, 'no Electron program could be had')
test.skip(noDisplay, `no display${findProgram('xvfb-run') ? '; run it under xvfb-run' : ' and no xvfb-run'}`)

interface OurWindow {
  standwell: Transport
}

let home: string
let app: ElectronApplication
let page: Page

// Its first start on a machine reads some hundreds of megabytes from disk.
test.setTimeout(180_000)

test.beforeEach(async () => {
  home = mkdtempSync(join(tmpdir(), 'standwell-electron-'))
  app = await _electron.launch({
    executablePath: program,
    args: [project, '--no-sandbox', '--disable-gpu'],
    env: { ...(process.env as Record<string, string>), STANDWELL_HOME: home, STANDWELL_NODE: node },
    timeout: 120_000,
  })
  page = await app.firstWindow()
  await page.waitForLoadState('domcontentloaded')
})
test.afterEach(async () => {
  await app.close()
  rmSync(home, { recursive: true, force: true })
})

const current = () => page.evaluate(() => (window as unknown as OurWindow).standwell.call('farm.current', {}))

test('the window shows and a call goes through', async () => {
  await expect(page).toHaveTitle(/Standwell/)
  expect(page.url()).toMatch(/^standwell:\/\/app\//)
  await expect
    .poll(() => app.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().map((window) => window.isVisible())))
    .toEqual([true])
  expect(await current()).toEqual({ ok: true, value: null })
})

test('the page has no rights beyond a page', async () => {
  const inPage = await page.evaluate(() => ({
    globals: ['require', 'process', 'module', 'Buffer', 'electron'].filter((name) => name in window),
    given: Object.keys((window as unknown as OurWindow).standwell).sort(),
  }))
  expect(inPage).toEqual({ globals: [], given: ['call', 'listen', 'pdf'] })
  const rights = await app.evaluate(({ BrowserWindow }) => {
    const [window] = BrowserWindow.getAllWindows()
    // Not in Electron's types, but the only place where the rights in force can be read.
    const contents = window?.webContents as unknown as { getLastWebPreferences(): Record<string, unknown> }
    const { sandbox, contextIsolation, nodeIntegration, webSecurity, webviewTag } = contents.getLastWebPreferences()
    return { sandbox, contextIsolation, nodeIntegration, webSecurity, webviewTag: webviewTag ?? false }
  })
  const expected = {
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    webSecurity: true,
    webviewTag: false,
  }
  expect(rights).toEqual(expected)
})

test('it leaves its pages for nothing, opens no window and gets no permission', async () => {
  const before = page.url()
  const permission = await page.evaluate(async () => {
    window.open('http://example.org/')
    location.href = 'https://example.org/'
    await new Promise((resolve) => setTimeout(resolve, 300))
    return (await navigator.permissions.query({ name: 'geolocation' })).state
  })
  expect(permission).toBe('denied')
  expect(page.url()).toBe(before)
  expect(app.windows()).toHaveLength(1)
})

test('files outside the window are not served', async () => {
  const statuses = await page.evaluate(() =>
    Promise.all(
      ['standwell://app/%2e%2e/main/main.js', 'standwell://app/none.html'].map((url) =>
        fetch(url).then((response) => response.status),
      ),
    ),
  )
  expect(statuses).toEqual([404, 404])
})

test('a page becomes a PDF of the paper asked for', async () => {
  const boxes = await page.evaluate(async () => {
    const { pdf } = (window as unknown as { standwell: Desk }).standwell
    return Promise.all(
      (['Letter', 'A4'] as const).map(async (paper) => atob(await pdf(paper)).match(/MediaBox \[([\d. ]+)\]/)?.[1]),
    )
  })
  // Letter is 612 × 792 points; A4 is 210 × 297 mm, which is 595.3 × 841.9.
  expect(boxes[0]).toBe('0 0 612 792')
  expect(boxes[1]).toMatch(/^0 0 59[456](\.\d+)? 84[123](\.\d+)?$/)
})

test('an engine that is killed is started again, and no call hangs', async () => {
  expect(await current()).toMatchObject({ ok: true })
  await page.evaluate(() => {
    const states: string[] = []
    ;(window as unknown as OurWindow & { states: string[] }).states = states
    ;(window as unknown as OurWindow).standwell.listen((news) => {
      if (news.kind === 'engine') states.push(news.state)
    })
  })
  const killed = await app.evaluate(({ app }) => {
    // A utility process is listed by name; a forked Node only by the system.
    const utility = app.getAppMetrics().find(({ name }) => name === 'Standwell engine')?.pid
    const { execFileSync } = process.getBuiltinModule('node:child_process')
    const listed = () => execFileSync('ps', ['-o', 'pid=,args=', '--ppid', String(process.pid)], { encoding: 'utf8' })
    const forked = () =>
      Number.parseInt(
        listed()
          .split('\n')
          .find((line) => line.includes('start-in-app.js')) ?? '',
        10,
      )
    return process.kill(utility ?? forked(), 'SIGKILL')
  })
  expect(killed).toBe(true)
  expect(await current()).toMatchObject({ ok: false, problems: [{ code: 'engine-stopped' }] })
  const states = () => page.evaluate(() => (window as unknown as { states: string[] }).states)
  await expect.poll(states).toEqual(['stopped', 'restarted'])
  expect(await current()).toMatchObject({ ok: true })
})
