/**
 * A contributor's day, in a copy of the sources: a label changed is seen without a reload, the engine changed answers
 * anew, a mistake leaves what runs running, and the doors are as narrow as in what is built to be used.
 */
import type { ChildProcess } from 'node:child_process'
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from '@playwright/test'
import { expect, test } from '@playwright/test'
import { project } from './fixtures.ts'

test.setTimeout(120_000)

const copied = ['src-main', 'src-shared', 'src-renderer', 'migrations', 'electron.vite.config.ts', 'package.json']
let copy: string
let dev: ChildProcess
let said = ''
let address: string

test.beforeAll(async () => {
  // Each test begins its own: what an earlier one said would give its address.
  said = ''
  copy = mkdtempSync(join(tmpdir(), 'standwell-dev-'))
  for (const name of copied) cpSync(join(project, name), join(copy, name), { recursive: true })
  symlinkSync(join(project, 'node_modules'), join(copy, 'node_modules'), 'junction')
  const { STANDWELL_HOME: _own, ...env } = process.env
  dev = spawn(process.execPath, ['src-main/start.mjs', 'dev', 'browser'], { cwd: copy, env })
  dev.stderr?.on('data', (text) => (said += String(text)))
  address = await new Promise((found, failed) => {
    dev.on('exit', () => failed(new Error(said)))
    dev.stdout?.on('data', (text) => {
      said += String(text)
      const line = /^Standwell is at (\S+)$/m.exec(said)
      if (line?.[1]) found(line[1])
    })
  })
})
test.afterAll(async () => {
  const over = once(dev, 'exit')
  dev.kill('SIGTERM')
  await over
  rmSync(copy, { recursive: true, force: true })
})

/** An edit as an editor makes it; the words must be there, or the test would wait for nothing. */
function edit(file: string, from: string, to: string) {
  const text = readFileSync(join(copy, file), 'utf8')
  expect(text).toContain(from)
  writeFileSync(join(copy, file), text.replace(from, to))
}

const report = (page: Page) =>
  page.evaluate(async () => {
    const headers = { 'content-type': 'application/json' }
    const reply = await fetch('call/report.read', { method: 'POST', headers, body: '{}' }).catch(() => null)
    return reply?.ok ? ((await reply.json()) as { value: string }).value : ''
  })

test('what is edited is seen', async ({ page }) => {
  await page.goto(address)
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  await page.evaluate(() => Object.assign(window, { stillHere: true }))
  edit('src-renderer/pages/first/FirstPage.svelte', 'Open the demo farm', 'Open the farm of the demo')
  await expect(page.getByRole('button', { name: 'Open the farm of the demo' })).toBeVisible()
  expect(await page.evaluate(() => 'stillHere' in window)).toBe(true)

  expect(await report(page)).toContain('files of version')
  edit('src-main/engine/problem-report.ts', 'files of version', 'files with version')
  await expect.poll(() => report(page), { timeout: 60_000 }).toContain('files with version')
  // The same page, whose cookie is of the engine before, is heard by the one after.
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()

  edit('src-main/engine/problem-report.ts', 'export function', 'export function function')
  await expect.poll(() => said, { timeout: 60_000 }).toContain('What was started before runs on.')
  expect(await report(page)).toContain('files with version')
})

test('its doors are no wider', async ({ request }) => {
  const { origin } = new URL(address)
  const entered = await fetch(address, { redirect: 'manual' })
  const [cookie = ''] = entered.headers.getSetCookie()[0]?.split(';') ?? []
  const ask = (headers: Record<string, string>) =>
    request
      .post(`${origin}/call/farm.current`, { headers: { 'content-type': 'application/json', ...headers }, data: {} })
      .then((reply) => reply.status())
  expect(await ask({ cookie, origin })).toBe(200)
  expect(await ask({ origin })).toBe(401)
  expect(await ask({ cookie, origin: 'http://example.org' })).toBe(403)
  expect(await ask({ cookie, host: 'example.org' })).toBe(403)

  // And what is built to be used knows nothing of pages that change.
  const main = readdirSync(join(project, 'out', 'main')).filter((name) => name.endsWith('.js'))
  expect(main).toContain('main.js')
  expect(main.filter((name) => readFileSync(join(project, 'out', 'main', name)).includes('STANDWELL_DEV'))).toEqual([])
  expect(readFileSync(join(copy, 'out', 'main', 'main.js')).includes('STANDWELL_DEV')).toBe(true)
})
