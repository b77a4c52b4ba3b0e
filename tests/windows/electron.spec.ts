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
test.setTimeout(240_000)

/**
 * Once in some dozens of starts the runner attaches to Electron and never hears that it is ready, as its log shows: the
 * start is made again then, and a program that does not start at all fails all the same.
 */
async function launch(starts = 3): Promise<void> {
  try {
    app = await _electron.launch({
      executablePath: program,
      args: [project, '--no-sandbox', '--disable-gpu'],
      env: { ...(process.env as Record<string, string>), STANDWELL_HOME: home, STANDWELL_NODE: node },
      timeout: 50_000,
    })
  } catch (error) {
    if (starts <= 1 || !/Timeout/.test(String(error))) throw error
    return launch(starts - 1)
  }
  page = await app.firstWindow()
  await page.waitForLoadState('domcontentloaded')
}

test.beforeEach(async () => {
  home = mkdtempSync(join(tmpdir(), 'standwell-electron-'))
  await launch()
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

/** A call through the page, as the window makes it. */
const call = (name: string, input: object) =>
  page.evaluate(([to, given]) => (window as unknown as OurWindow).standwell.call(to as never, given as never), [
    name,
    input,
  ] as const) as Promise<{ ok: boolean; value: unknown }>

test('killed as a whole while edits are acknowledged, it has every one of them when it is started again', async () => {
  await call('farm.start', { name: 'Creek', season: 2027 })
  const values = { name: 'North', acres: 1, water: 'dryland', yieldGoalLb: 4000 }
  await call('sheet.change', { sheet: 'field', says: 'Add a field', added: [{ key: 1, values }] })
  let acknowledged = 1
  for (let acres = 2; acres <= 30; acres += 1) {
    const cells = [{ id: 1, path: 'acres', value: acres }]
    if ((await call('sheet.change', { sheet: 'field', says: 'Type', cells })).ok) acknowledged = acres
  }
  const over = app.waitForEvent('close')
  app.process().kill('SIGKILL')
  await over
  await launch()
  await expect
    .poll(async () => ((await call('field.list', {})).value as { acres: number }[] | undefined)?.[0]?.acres, {
      timeout: 30_000,
    })
    .toBe(acknowledged)
})

test('the menu makes a backup and says so; without a farm it says why not', async () => {
  const choose = () =>
    app.evaluate(async ({ dialog, Menu }) => {
      const told: string[] = []
      const box = (...given: unknown[]) => {
        const { message, detail } = given.at(-1) as { message: string; detail: string }
        told.push(`${message} ${detail}`)
        return Promise.resolve({ response: 0, checkboxChecked: false })
      }
      Object.assign(dialog, { showMessageBox: box })
      const file = Menu.getApplicationMenu()?.items.find(({ label }) => label === '&File')
      file?.submenu?.items.find(({ label }) => label === '&Back up now')?.click()
      while (told.length === 0) await new Promise((resolve) => setTimeout(resolve, 50))
      return told
    })
  expect(await choose()).toEqual([expect.stringMatching(/^No backup was made\. No farm is open/)])
  await call('farm.start', { name: 'Creek', season: 2027 })
  expect(await choose()).toEqual([expect.stringMatching(/^A backup was made\. .*by hand\.farm$/)])
})

test('a year looked through asks nothing of any network', async () => {
  await app.evaluate(({ session }) => {
    const asked: string[] = []
    Object.assign(globalThis, { asked })
    session.defaultSession.webRequest.onBeforeRequest((details, answer) => {
      asked.push(details.url)
      answer({})
    })
  })
  await page.getByRole('button', { name: 'Open it after its harvest' }).click()
  for (const stage of ['fields', 'quotes', 'plan', 'orders', 'deliveries', 'planting', 'harvest', 'review', 'file']) {
    await page.evaluate((hash) => void (location.hash = hash), stage)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
  }
  const asked = await app.evaluate(() => (globalThis as unknown as { asked: string[] }).asked)
  expect(asked.filter((url) => !/^(standwell:\/\/app\/|blob:|data:|devtools:)/.test(url))).toEqual([])
})
