/**
 * A window test's own Standwell: the built loopback host in a home of its own, on a free port, stopped afterwards.
 * Any error on the page's console fails the test, and so does any request that leaves this machine.
 */
import type { Locator } from '@playwright/test'
import { test as base, expect } from '@playwright/test'
import type { ChildProcess } from 'node:child_process'
import { fork } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'

export const project = resolve(import.meta.dirname, '../..')

export interface Standwell {
  /** An address that opens one browser, as printed last. */
  readonly address: string
  /** Where the host is, without a way in. */
  origin: string
  /** What a browser that was let in sends. */
  cookie: string
  home: string
  stop(): Promise<number | null>
}

/** The built host as a child, with what it prints kept apart from the test's own output. */
export function forkStandwell(home: string): ChildProcess {
  const entry = join(project, 'out', 'main', 'start-alone.js')
  if (!existsSync(entry)) throw new Error('Standwell is not built; run npm run build, or npm run test:windows.')
  // The runner sets colour variables that make Node print a warning of its own.
  const { NO_COLOR: _no, FORCE_COLOR: _force, ...env } = process.env
  return fork(entry, {
    env: { ...env, STANDWELL_HOME: home, STANDWELL_PORT: '' },
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
  })
}

export async function startStandwell(home: string): Promise<Standwell> {
  const child = forkStandwell(home)
  child.stdout?.resume()
  child.stderr?.pipe(process.stderr)
  const [first] = (await once(child, 'message')) as [{ address: string }]
  const { origin } = new URL(first.address)
  let { address } = first
  child.on('message', ({ next }: { next?: string }) => (address = next ?? address))
  // One address is for the test's own calls.
  const entered = await fetch(address, { redirect: 'manual' })
  const [cookie = ''] = entered.headers.getSetCookie()[0]?.split(';') ?? []
  while (address === first.address) await new Promise((resolve) => setTimeout(resolve, 5))
  const over = once(child, 'exit')
  return {
    get address() {
      return address
    },
    origin,
    cookie,
    home,
    async stop() {
      if (child.exitCode === null) child.kill('SIGTERM')
      await over
      return child.exitCode
    },
  }
}

/** [ms] for which a button is held: a page that shifts meanwhile, for a box just left, would lose a person's press. */
const press = 150

interface Fixtures {
  standwell: Standwell
  unhurried: void
  faults: string[]
}

export const test = base.extend<Fixtures>({
  standwell: async ({ page }, use) => {
    const home = mkdtempSync(join(tmpdir(), 'standwell-window-'))
    const standwell = await startStandwell(home)
    await use(standwell)
    // Before the host goes: a page left open would look for it, and a failed look is a fault on its console.
    await page.close()
    await standwell.stop()
    rmSync(home, { recursive: true, force: true })
  },
  unhurried: [
    async ({ page }, use) => {
      const locator = Object.getPrototypeOf(page.locator('html')) as Pick<Locator, 'click'>
      const click = locator.click
      locator.click = function (options) {
        return click.call(this, { delay: press, ...options })
      }
      await use()
      locator.click = click
    },
    { auto: true },
  ],
  faults: [
    async ({ page }, use) => {
      const faults: string[] = []
      page.on('pageerror', (error) => faults.push(error.message))
      page.on('console', (message) => {
        if (message.type() === 'error') faults.push(message.text())
      })
      page.on('request', (request) => {
        if (!/^(http:\/\/127\.0\.0\.1:|data:|blob:)/.test(request.url())) faults.push(`asked for ${request.url()}`)
      })
      await use(faults)
      expect(faults).toEqual([])
    },
    { auto: true },
  ],
})

export { expect }
