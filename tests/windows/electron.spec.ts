/**
 * The desktop window in a real Electron: its rights as Electron itself reports them, a call through the engine
 * process, and what happens when that process is killed. STANDWELL_TEST_ELECTRON names the program.
 */
import { expect, test } from '@playwright/test'
import type { Desk as DeskRights } from '../../src-shared/api.ts'
import { closeDesk, openDesk, skipWithoutDesk, type Desk, type OurWindow } from './desk.ts'

skipWithoutDesk()

// Its first start on a machine reads some hundreds of megabytes from disk.
test.setTimeout(240_000)

let desk: Desk

test.beforeEach(async () => {
  desk = await openDesk()
})
test.afterEach(() => closeDesk(desk))

const current = () => desk.call('farm.current', {})

test('the window shows and a call goes through', async () => {
  await expect(desk.page).toHaveTitle(/Standwell/)
  expect(desk.page.url()).toMatch(/^standwell:\/\/app\//)
  await expect
    .poll(() =>
      desk.app.evaluate(({ BrowserWindow }) => BrowserWindow.getAllWindows().map((window) => window.isVisible())),
    )
    .toEqual([true])
  expect(await current()).toMatchObject({ ok: true, value: null })
})

test('the page has no rights beyond a page', async () => {
  const inPage = await desk.page.evaluate(() => ({
    globals: ['require', 'process', 'module', 'Buffer', 'electron'].filter((name) => name in window),
    given: Object.keys((window as unknown as OurWindow).standwell).sort(),
  }))
  expect(inPage).toEqual({ globals: [], given: ['call', 'heed', 'listen', 'openDropped', 'pdf'] })
  const rights = await desk.app.evaluate(({ BrowserWindow }) => {
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
  const before = desk.page.url()
  const permission = await desk.page.evaluate(async () => {
    window.open('http://example.org/')
    location.href = 'https://example.org/'
    await new Promise((resolve) => setTimeout(resolve, 300))
    return (await navigator.permissions.query({ name: 'geolocation' })).state
  })
  expect(permission).toBe('denied')
  expect(desk.page.url()).toBe(before)
  expect(desk.app.windows()).toHaveLength(1)
})

test('files outside the window are not served', async () => {
  const statuses = await desk.page.evaluate(() =>
    Promise.all(
      ['standwell://app/%2e%2e/main/main.js', 'standwell://app/none.html'].map((url) =>
        fetch(url).then((response) => response.status),
      ),
    ),
  )
  expect(statuses).toEqual([404, 404])
})

test('a page becomes a PDF of the paper asked for', async () => {
  const boxes = await desk.page.evaluate(async () => {
    const { pdf } = (window as unknown as { standwell: DeskRights }).standwell
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
  await desk.page.evaluate(() => {
    const states: string[] = []
    ;(window as unknown as OurWindow & { states: string[] }).states = states
    ;(window as unknown as OurWindow).standwell.listen((news) => {
      if (news.kind === 'engine') states.push(news.state)
    })
  })
  const killed = await desk.app.evaluate(({ app }) => {
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
  const states = () => desk.page.evaluate(() => (window as unknown as { states: string[] }).states)
  await expect.poll(states).toEqual(['stopped', 'restarted'])
  expect(await current()).toMatchObject({ ok: true })
})

test('killed as a whole while edits are acknowledged, it has every one of them when it is started again', async () => {
  await desk.call('farm.start', { name: 'Creek', season: 2027 })
  const values = { name: 'North', acres: 1, water: 'dryland', yieldGoalLb: 4000 }
  await desk.call('sheet.change', { sheet: 'field', says: 'Add a field', added: [{ key: 1, values }] })
  let acknowledged = 1
  for (let acres = 2; acres <= 30; acres += 1) {
    const cells = [{ id: 1, path: 'acres', value: acres }]
    if ((await desk.call('sheet.change', { sheet: 'field', says: 'Type', cells })).ok) acknowledged = acres
  }
  const over = desk.app.waitForEvent('close')
  desk.app.process().kill('SIGKILL')
  await over
  await desk.again()
  await expect
    .poll(async () => ((await desk.call('field.list', {})).value as { acres: number }[] | undefined)?.[0]?.acres, {
      timeout: 30_000,
    })
    .toBe(acknowledged)
})

test('the menu makes a backup and says so; without a farm it cannot be chosen', async () => {
  const backUp = () => desk.menu('&File', '&Back up now')
  await desk.answer('')
  await expect(backUp()).rejects.toThrow('&Back up now cannot be chosen now.')
  await desk.call('farm.start', { name: 'Creek', season: 2027 })
  // The menu hears of the farm a moment later.
  await expect(backUp).toPass()
  await expect.poll(() => desk.told()).toEqual([expect.stringMatching(/^A backup was made\. .*by hand\.farm$/)])
})

test('a year looked through asks nothing of any network', async () => {
  await desk.app.evaluate(({ session }) => {
    const asked: string[] = []
    Object.assign(globalThis, { asked })
    session.defaultSession.webRequest.onBeforeRequest((details, answer) => {
      asked.push(details.url)
      answer({})
    })
  })
  await desk.page.getByRole('button', { name: 'Open it after its harvest' }).click()
  for (const stage of ['fields', 'quotes', 'plan', 'orders', 'deliveries', 'planting', 'harvest', 'review', 'file']) {
    await desk.page.evaluate((hash) => void (location.hash = hash), stage)
    await expect(desk.page.getByRole('heading', { level: 1 })).toBeVisible()
  }
  const asked = await desk.app.evaluate(() => (globalThis as unknown as { asked: string[] }).asked)
  expect(asked.filter((url) => !/^(standwell:\/\/app\/|blob:|data:|devtools:)/.test(url))).toEqual([])
})
