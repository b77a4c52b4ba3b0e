/** The window: its size, its rights, and when it shows. Knows nothing of what is in it. */
import { BrowserWindow } from 'electron'
import { fileURLToPath } from 'node:url'
import { home, pageRights } from './page-trust.ts'

/** Where the program brings no icon of its own to the system. The same place from the sources and from a package. */
const icon = fileURLToPath(new URL('../../src-main/package/icon/linux/256x256.png', import.meta.url))

export function openWindow(preload: string): BrowserWindow {
  const window = new BrowserWindow({
    title: 'Standwell',
    ...(process.platform === 'linux' ? { icon } : {}),
    width: 1366,
    height: 860,
    minWidth: 900,
    minHeight: 600,
    // Shown once painted: no white flash.
    show: false,
    webPreferences: { ...pageRights, preload },
  })
  window.once('ready-to-show', () => window.show())
  void window.loadURL(home)
  return window
}

export function showWindow() {
  const [window] = BrowserWindow.getAllWindows()
  if (window?.isMinimized()) window.restore()
  window?.focus()
}
