/** The window: its size, its rights, when it shows, and what is said when its page dies. Knows nothing of what is in it. */
import { app, BrowserWindow, dialog, nativeTheme, screen } from 'electron'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { home, pageRights } from './page-trust.ts'
import { least, placeFrom, type Place } from './window-place.ts'

/** Colours of the paper, as in tokens.css: what is seen before the first page is painted. */
const paper = { light: '#f8f4ea', dark: '#1a1916' }

const placeFile = () => join(app.getPath('userData'), 'window.json')

/** Where the program brings no icon of its own to the system. The same place from the sources and from a package. */
const icon = fileURLToPath(new URL('../../src-main/package/icon/linux/256x256.png', import.meta.url))

export function openWindow(preload: string): BrowserWindow {
  const main = screen.getPrimaryDisplay()
  const displays = [main, ...screen.getAllDisplays().filter(({ id }) => id !== main.id)]
  const { isMaximized, isFullScreen, zoom, ...bounds } = placeFrom(
    readPlace(),
    displays.map(({ workArea }) => workArea),
  )
  const window = new BrowserWindow({
    title: 'Standwell',
    ...(process.platform === 'linux' ? { icon } : {}),
    ...bounds,
    minWidth: least.width,
    minHeight: least.height,
    // Shown once painted: no flash of another colour.
    show: false,
    backgroundColor: nativeTheme.shouldUseDarkColors ? paper.dark : paper.light,
    webPreferences: { ...pageRights, preload },
  })
  let isShown = false
  const show = () => {
    if (isShown || window.isDestroyed()) return
    isShown = true
    if (isMaximized) window.maximize()
    if (isFullScreen) window.setFullScreen(true)
    window.show()
  }
  window.once('ready-to-show', show)
  // A page may be loaded and its first frame never told of; a window that is never shown cannot even be closed.
  window.webContents.once('did-finish-load', () => setTimeout(show, 500))
  window.webContents.once('did-finish-load', () => window.webContents.setZoomLevel(zoom ?? 0))
  window.on('close', () => keepPlace(window))
  window.webContents.on('render-process-gone', (_event, { reason }) => void revive(window, reason))
  window.on('unresponsive', () => void ask(window))
  void window.loadURL(home)
  return window
}

export function showWindow() {
  const [window] = BrowserWindow.getAllWindows()
  if (window?.isMinimized()) window.restore()
  window?.focus()
}

function readPlace(): unknown {
  try {
    return JSON.parse(readFileSync(placeFile(), 'utf8'))
  } catch {
    return null
  }
}

function keepPlace(window: BrowserWindow) {
  const place: Place = {
    ...window.getNormalBounds(),
    isMaximized: window.isMaximized(),
    isFullScreen: window.isFullScreen(),
    zoom: window.webContents.getZoomLevel(),
  }
  try {
    writeFileSync(placeFile(), JSON.stringify(place))
  } catch {
    // A disk that refuses costs the next start a move of the window.
  }
}

/** The page of a window is gone; the engine and the farm are not. */
async function revive(window: BrowserWindow, reason: string) {
  if (reason === 'clean-exit' || window.isDestroyed()) return
  window.webContents.reload()
  await dialog.showMessageBox(window, {
    type: 'warning',
    message: 'The window stopped and was opened again.',
    detail: 'Everything that was shown as saved is saved. A cell that was being typed is still there to go on with.',
  })
}

/** A page that does not answer may be at long work; only the person knows whether to wait. */
async function ask(window: BrowserWindow) {
  const { response } = await dialog.showMessageBox(window, {
    type: 'question',
    message: 'The window does not answer.',
    detail: 'Everything that was shown as saved is saved.',
    buttons: ['Wait', 'Open it again'],
    cancelId: 0,
  })
  if (response === 1 && !window.isDestroyed()) window.webContents.forcefullyCrashRenderer()
}

/** Quitting takes long: mostly a backup of a large farm is being written. It goes on while this is shown. */
export function tellClosing(end: () => void): void {
  const asked = dialog.showMessageBox({
    type: 'info',
    message: 'Standwell is closing your farm.',
    detail: 'It may be writing a backup. Everything that was shown as saved is saved. Standwell quits when it is done.',
    buttons: ['Wait', 'Quit now'],
    cancelId: 0,
  })
  void asked.then(({ response }) => {
    if (response === 1) end()
  })
}
