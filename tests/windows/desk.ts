/** A real Electron with Standwell in it, in a home of its own. STANDWELL_TEST_ELECTRON names the program. */
import type { ElectronApplication, Page } from '@playwright/test'
import { _electron, test } from '@playwright/test'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { findProgram } from '../tools/chromium.mjs'
import type { Desk as Rights } from '../../src-shared/api.ts'

export const program = process.env.STANDWELL_TEST_ELECTRON ?? ''
export const project = resolve(import.meta.dirname, '../..')
const ownNode = resolve(project, 'node_modules/node/bin/node')
/** What the engine is forked on where Electron's own Node is too old. */
export const node = existsSync(ownNode) ? ownNode : process.execPath
const noDisplay = process.platform === 'linux' && !process.env.DISPLAY

export interface OurWindow {
  standwell: Rights
}

export interface Desk {
  app: ElectronApplication
  page: Page
  home: string
  /** A call through the page, as the window makes it. */
  call(name: string, input: object): Promise<{ ok: boolean; value: unknown }>
  /** Another start in the same home, after this one has ended. */
  again(more?: readonly string[]): Promise<void>
  /** Clicks an item of the menu bar. */
  menu(...path: readonly string[]): Promise<void>
  /** The system's own dialogs answer with this path from now on; what boxes say is kept anew. */
  answer(path: string): Promise<void>
  /** What boxes have said since. */
  told(): Promise<string[]>
}

/**
 * Once in some dozens of starts the runner attached to Electron and never heard that it was ready, as its log showed; in
 * 570 starts since, not once. Such a start is made again, and a program that does not start at all fails all the same.
 */
async function launch(home: string, more: readonly string[], as: string, starts = 4): Promise<ElectronApplication> {
  try {
    return await _electron.launch({
      executablePath: as,
      args: [project, '--no-sandbox', '--disable-gpu', ...more],
      env: { ...(process.env as Record<string, string>), STANDWELL_HOME: home, STANDWELL_NODE: node },
      timeout: 30_000,
    })
  } catch (error) {
    if (starts <= 1 || !/Timeout/.test(String(error))) throw error
    return launch(home, more, as, starts - 1)
  }
}

/** Skips the file's tests where no Electron or no display can be had, and says why. */
export function skipWithoutDesk(): void {
  test.skip(!program, 'no Electron program could be had')
  test.skip(noDisplay, `no display${findProgram('xvfb-run') ? '; run it under xvfb-run' : ' and no xvfb-run'}`)
}

/** @param as the program itself, or one that starts it and looks on */
export async function openDesk(more: readonly string[] = [], as = program): Promise<Desk> {
  const home = mkdtempSync(join(tmpdir(), 'standwell-electron-'))
  const desk = {
    home,
    async call(name: string, input: object) {
      const reply = await desk.page.evaluate(
        ([to, given]) => (window as unknown as OurWindow).standwell.call(to as never, given),
        [name, input] as const,
      )
      return JSON.parse(reply) as { ok: boolean; value: unknown }
    },
    async again(args: readonly string[] = []) {
      desk.app = await launch(home, args, as)
      desk.page = await desk.app.firstWindow()
      await desk.page.waitForLoadState('domcontentloaded')
    },
    // Chosen by a timer of the program, as the system chooses: what the runner runs breaks into whatever Node is at, and a
    // tick that is queued just as the queue is found empty is never run, nor any after it. No message comes in then.
    menu: (...path: readonly string[]) =>
      desk.app.evaluate(async ({ Menu }, labels) => {
        let items = Menu.getApplicationMenu()?.items
        for (const [at, label] of labels.entries()) {
          const item = items?.find((each) => each.label === label)
          if (!item) throw new Error(`The menu has no ${label}.`)
          if (!item.enabled) throw new Error(`${label} cannot be chosen now.`)
          if (at === labels.length - 1) await new Promise<void>((done) => setTimeout(() => done(item.click())))
          items = item.submenu?.items
        }
      }, path),
    answer: (path: string) =>
      desk.app.evaluate(({ dialog }, chosen) => {
        const told: string[] = []
        Object.assign(globalThis, { told })
        Object.assign(dialog, {
          showOpenDialog: () => Promise.resolve({ canceled: false, filePaths: [chosen] }),
          showSaveDialog: () => Promise.resolve({ canceled: false, filePath: chosen }),
          showMessageBox: (...given: unknown[]) => {
            const { message, detail } = given.at(-1) as { message: string; detail: string }
            told.push(`${message} ${detail}`)
            return Promise.resolve({ response: 0, checkboxChecked: false })
          },
        })
      }, path),
    told: () => desk.app.evaluate(() => (globalThis as unknown as { told: string[] }).told),
  } as Desk
  await desk.again(more)
  return desk
}

export async function closeDesk({ app, home }: Desk): Promise<void> {
  await app.close()
  rmSync(home, { recursive: true, force: true })
}
