/**
 * Runs in Electron in the app's place and loads it: tells the bench when its window was painted and when it showed what it
 * was waited for, and answers what the bench asks of its pages. `bare`: a window with nothing in it instead of the app.
 */
import { app, BrowserWindow } from 'electron'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'

const project = process.env.STANDWELL_BENCH_PROJECT
const awaited = process.env.STANDWELL_BENCH_AWAITS
const tell = (said) => process.stdout.write(`\n@bench ${JSON.stringify({ ...said, at: Date.now() })}\n`)

app.on('browser-window-created', (_event, window) => {
  window.once('ready-to-show', () => tell({ what: 'painted' }))
  window.webContents.once('dom-ready', () => {
    if (awaited) void window.webContents.executeJavaScript(until(awaited)).then(() => tell({ what: 'shown' }))
  })
})

/** Resolves in the page at the frame in which a selector is there. */
const until = (selector) => `new Promise((done) => {
  const look = () => document.querySelector(${JSON.stringify(selector)}) && (watch.disconnect(), requestAnimationFrame(() => done(true)))
  const watch = new MutationObserver(look)
  watch.observe(document, { childList: true, subtree: true })
  look()
})`

process.stdin.on('data', (data) => {
  const { script } = JSON.parse(String(data))
  if (script === undefined) return app.quit()
  const [window] = BrowserWindow.getAllWindows()
  void window.webContents.executeJavaScript(script, true).then(
    (value) => tell({ what: 'answer', value }),
    (error) => tell({ what: 'answer', error: String(error) }),
  )
})

if (process.env.STANDWELL_BENCH_BARE) {
  app.setPath('userData', join(process.env.STANDWELL_HOME, 'window'))
  app.on('window-all-closed', () => app.quit())
  void app.whenReady().then(() => {
    const window = new BrowserWindow({ width: 1366, height: 860, show: false, webPreferences: { sandbox: true } })
    window.once('ready-to-show', () => window.show())
    void window.loadURL('data:text/html,<title>Bare</title><p>Nothing</p>')
  })
} else await import(pathToFileURL(join(project, 'out', 'main', 'main.js')).href)
