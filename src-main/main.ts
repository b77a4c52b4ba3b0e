/**
 * Starts the desktop app, in order: policy before ready, then pages, engine, window. Knows no SQL and no page.
 * No top-level await here: an ES module that waits for `ready` keeps Electron from ever becoming so.
 */
import { app, BrowserWindow, ipcMain } from 'electron'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { startEngine, type EngineProcess } from './app/engine-process.ts'
import { backUp, chooseFarm, farmAmong, moveFarm, openFarmAt, saveCopy, showHome } from './app/farm-dialogs.ts'
import { keepMenu } from './app/menu-state.ts'
import { pdfOf, savePdf } from './app/pdf.ts'
import { isFromOurPage, lockDown, registerScheme, servePages, staySilent } from './app/security.ts'
import { openWindow, showWindow, tellClosing } from './app/window.ts'

const built = fileURLToPath(new URL('..', import.meta.url))

// Before anything asks for a path: two homes are two apps, each with its own lock. What Electron keeps for itself has a
// folder of its own, which by Electron's own rule would on some systems be the one in which farms lie.
const { STANDWELL_HOME: home } = process.env
app.setPath('userData', home ? join(home, 'window') : join(app.getPath('appData'), 'Standwell window'))
registerScheme()
staySilent()
lockDown()

/** A farm's file that the system asked for before there was an engine. */
let awaited = farmAmong(process.argv, process.cwd())
let openFile = (path: string) => void (awaited = path)
app.on('open-file', (event, path) => {
  event.preventDefault()
  openFile(path)
})

function run(engine: EngineProcess) {
  servePages(join(built, 'renderer'))
  const open = () => openWindow(join(built, 'preload', 'preload.cjs'))
  // First of all: what follows is done while its page comes.
  open()
  const menu = keepMenu({
    wish: (wish) => BrowserWindow.getAllWindows()[0]?.webContents.send('wish', wish),
    closeFarm: () => void engine.call('farm.close', {}),
    chooseFarm: () => void chooseFarm(engine),
    openFarm: (path) => void openFarmAt(engine, path),
    saveCopy: () => void saveCopy(engine),
    moveFarm: () => void moveFarm(engine),
    backUp: () => void backUp(engine),
    showHome: () => void showHome(engine),
    savePdf: () => BrowserWindow.getAllWindows().forEach((window) => void savePdf(window)),
  })
  engine.listen((news) => {
    for (const window of BrowserWindow.getAllWindows()) window.webContents.send('news', news)
    void menu.follow(engine, news)
  })
  openFile = (path) => void openFarmAt(engine, path)
  if (awaited !== null) openFile(awaited)
  ipcMain.handle('call', (event, name: unknown, input: unknown) => {
    if (!isFromOurPage(event.senderFrame)) throw new Error('Refused.')
    return engine.pass(String(name), input)
  })
  ipcMain.handle('pdf', (event, paper: unknown) => {
    if (!isFromOurPage(event.senderFrame)) throw new Error('Refused.')
    return pdfOf(event.sender, paper)
  })
  ipcMain.handle('drop', (event, path: unknown) => {
    if (!isFromOurPage(event.senderFrame)) throw new Error('Refused.')
    if (typeof path === 'string' && path !== '') return openFarmAt(engine, path)
  })
  app.on('second-instance', (_event, argv, folder) => {
    showWindow()
    const path = farmAmong(argv, folder)
    if (path !== null) openFile(path)
  })
  app.on('activate', () => {
    if (BrowserWindow.getAllWindows().length === 0) open()
  })

  let engineGone = false
  app.on('before-quit', (event) => {
    if (engineGone) return
    // The farm is closed properly before the app goes.
    event.preventDefault()
    void engine.stop(tellClosing).then(() => {
      engineGone = true
      app.quit()
    })
  })
}

app.on('window-all-closed', () => app.quit())
// Two apps on one farm file would undo each other's work.
if (app.requestSingleInstanceLock()) {
  const engine = startEngine(join(built, 'main', 'start-in-app.js'))
  void app.whenReady().then(() => run(engine))
} else app.quit()
