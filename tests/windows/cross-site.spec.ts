/**
 * Another site in the same browser, and one that has its name point here: neither gets at the farm, by reading or by writing,
 * with what a browser really sends.
 */
import { createServer, type IncomingMessage } from 'node:http'
import type { AddressInfo } from 'node:net'
import { chromium, type Page } from '@playwright/test'
import { chromiumArgs, findChromium } from '../tools/chromium.mjs'
import { expect, test } from './fixtures.ts'

test.setTimeout(90_000)
// What the other site is refused stands on its own console; the window's must stay clean.
test.use({ trace: 'off' })

/** A site of somebody else on this machine, and what was asked of it. */
async function otherSite(): Promise<{ address: string; asked: IncomingMessage[]; close(): void }> {
  const asked: IncomingMessage[] = []
  const server = createServer((request, response) => {
    asked.push(request)
    response.writeHead(200, { 'content-type': 'text/html' })
    response.end('<!doctype html><title>other</title><body>other site')
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return { address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`, asked, close: () => server.close() }
}

/** Every way by which a page can send or fetch across sites; gives what each came to. */
function attack(page: Page, target: string): Promise<string[]> {
  return page.evaluate(async (to) => {
    const outcome = async (work: () => Promise<Response>) => {
      try {
        const response = await work()
        return response.type === 'opaque' ? 'opaque' : `${response.status} ${(await response.text()).slice(0, 40)}`
      } catch {
        return 'refused'
      }
    }
    const call = `${to}call/farm.openDemo`
    const json = { 'content-type': 'application/json' }
    const body = JSON.stringify({ today: '2026-11-26' })
    const tried = [
      await outcome(() => fetch(call, { method: 'POST', body })),
      await outcome(() => fetch(call, { method: 'POST', body, mode: 'no-cors' })),
      await outcome(() => fetch(call, { method: 'POST', body, headers: json })),
      await outcome(() => fetch(`${to}call/field.list`, { credentials: 'include' })),
      await outcome(() => fetch(to)),
      await outcome(() => fetch(`${to}news`)),
    ]
    navigator.sendBeacon(call, new Blob([body], { type: 'text/plain' }))
    const form = document.createElement('form')
    Object.assign(form, { method: 'POST', action: call, enctype: 'text/plain', target: 'hidden' })
    const frame = document.createElement('iframe')
    frame.name = 'hidden'
    frame.src = to
    document.body.append(frame, form)
    form.submit()
    await new Promise((resolve) => setTimeout(resolve, 800))
    const inside = frame.contentDocument?.body.innerText ?? 'nothing'
    return [...tried, inside]
  }, target)
}

test('another site gets nothing and changes nothing', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
  await page.evaluate(() => void (location.hash = 'fields'))
  const first = page.getByRole('gridcell', { name: '38', exact: true }).first()
  await expect(first).toBeVisible()
  const site = await otherSite()
  const browser = await chromium.launch({ executablePath: findChromium() ?? undefined, args: chromiumArgs })
  try {
    const other = await browser.newPage()
    await other.goto(site.address)
    const target = `${standwell.origin}/`
    for (const outcome of await attack(other, target)) {
      expect(['refused', 'opaque', 'nothing', '']).toContain(outcome)
    }
    // By a name that points here, the browser takes it for its own site: the host tells the two apart.
    const named = await chromium.launch({
      executablePath: findChromium() ?? undefined,
      args: [...chromiumArgs, '--host-resolver-rules=MAP evil.test 127.0.0.1'],
    })
    const rebound = await named.newPage()
    const response = await rebound.goto(target.replace('127.0.0.1', 'evil.test'))
    expect(response?.status()).toBe(403)
    expect(await rebound.content()).toContain('Wrong host.')
    for (const outcome of await attack(rebound, target.replace('127.0.0.1', 'evil.test'))) {
      expect(outcome).toMatch(/^(403|refused|opaque|nothing|Wrong host)/)
    }
    await named.close()
  } finally {
    await browser.close()
    site.close()
  }
  // The farm is the one that was open, as it was.
  await expect(first).toBeVisible()
  // Nothing that was asked of the other site came from us, nor carried the token.
  const token = standwell.cookie.split('=')[1] ?? 'none'
  expect(token.length).toBeGreaterThan(20)
  for (const { url, headers } of site.asked) expect(`${url} ${JSON.stringify(headers)}`).not.toContain(token)
})

test('a link out of the window carries no token and no address', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  // A history or a picture of the screen keeps no token, and no code of the page can read it.
  const [, token = 'none'] = standwell.cookie.split('=')
  expect(page.url()).not.toContain(token)
  expect(
    await page.evaluate(() => JSON.stringify([document.cookie, { ...sessionStorage }, { ...localStorage }])),
  ).not.toContain(token)
  const policy = await page.evaluate(async () => (await fetch(location.href)).headers.get('referrer-policy'))
  expect(policy).toBe('no-referrer')
})

test('another program on this machine is not sent the cookie of a window in the same browser', async ({
  page,
  standwell,
}) => {
  await page.goto(standwell.address)
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  const site = await otherSite()
  const other = await page.context().newPage()
  await other.goto(site.address)
  await other.goto(`${site.address}call/farm.current`)
  expect(site.asked.length).toBeGreaterThan(1)
  for (const { headers } of site.asked) expect(headers.cookie).toBeUndefined()
  // Nor does its page get in from the same browser, which would be the same site.
  for (const outcome of await attack(other, `${standwell.origin}/`))
    expect(['refused', 'opaque', 'nothing', '']).toContain(outcome)
  await other.close()
  site.close()
})
