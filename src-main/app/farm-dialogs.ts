/** Farms as files of the system: opened where they lie, copied, moved, by its own dialogs; what stood in the way is said. */
import { app, BrowserWindow, dialog, shell, type MessageBoxOptions } from 'electron'
import { join } from 'node:path'
import type { BackupRow } from '../../src-shared/backup.ts'
import type { FarmSummary } from '../../src-shared/farm.ts'
import type { Problem } from '../../src-shared/problem.ts'
import type { EngineProcess } from './engine-process.ts'

/** How a farm's file name ends, without the dot. */
const ending = 'farm'
const filters = [{ name: 'Farms of Standwell', extensions: [ending] }]

/** The farm's file among what a program was started with, or null. */
export function farmAmong(argv: readonly string[], folder: string): string | null {
  const named = argv.slice(1).find((given) => !given.startsWith('-') && given.toLowerCase().endsWith(`.${ending}`))
  return named === undefined ? null : join(named.startsWith('/') || /^[a-z]:[\\/]/i.test(named) ? '' : folder, named)
}

export async function openFarmAt(engine: EngineProcess, path: string): Promise<void> {
  const reply = await engine.desk('desk.open', { path })
  if (reply.ok) app.addRecentDocument(path)
  else await tell(refusal('The farm could not be opened.', reply.problems))
}

export async function chooseFarm(engine: EngineProcess): Promise<void> {
  const window = BrowserWindow.getFocusedWindow()
  const options = { title: 'Open a farm', filters, properties: ['openFile' as const] }
  const { filePaths } = await (window === null
    ? dialog.showOpenDialog(options)
    : dialog.showOpenDialog(window, options))
  const [path] = filePaths
  if (path !== undefined) await openFarmAt(engine, path)
}

export async function saveCopy(engine: EngineProcess): Promise<void> {
  const path = await askWhere(engine, 'Save a copy of the farm', 'Save the copy')
  if (path === null) return
  const reply = await engine.desk('desk.copyTo', { path })
  await tell(
    reply.ok
      ? { type: 'info', message: 'A copy was written.', detail: reply.value.path }
      : refusal('No copy was written.', reply.problems),
  )
}

export async function moveFarm(engine: EngineProcess): Promise<void> {
  const path = await askWhere(engine, 'Move the farm, with its backups', 'Move it here')
  if (path === null) return
  const reply = await engine.desk('desk.moveTo', { path })
  await tell(
    reply.ok
      ? { type: 'info', message: 'The farm was moved.', detail: reply.value.path }
      : refusal('The farm was not moved.', reply.problems),
  )
}

export async function backUp(engine: EngineProcess): Promise<void> {
  const reply = await engine.call('backup.make', {})
  await tell(
    reply.ok
      ? { type: 'info', message: 'A backup was made.', detail: (reply.value as BackupRow).fileName }
      : refusal('No backup was made.', reply.problems),
  )
}

/** In the system's own window for files. */
export async function showHome(engine: EngineProcess): Promise<void> {
  const reply = await engine.desk('desk.home', {})
  if (reply.ok) await shell.openPath(reply.value)
}

async function askWhere(engine: EngineProcess, title: string, buttonLabel: string): Promise<string | null> {
  const reply = await engine.call('farm.current', {})
  const farm = reply.ok ? (reply.value as FarmSummary | null) : null
  if (farm === null) return null
  const window = BrowserWindow.getFocusedWindow()
  const options = { title, buttonLabel, filters, defaultPath: join(app.getPath('documents'), farm.fileName) }
  const { filePath, canceled } = await (window === null
    ? dialog.showSaveDialog(options)
    : dialog.showSaveDialog(window, options))
  return canceled || filePath === '' ? null : filePath
}

/** In the system's own box, over the window where there is one. */
async function tell(words: MessageBoxOptions): Promise<void> {
  const window = BrowserWindow.getFocusedWindow()
  await (window === null ? dialog.showMessageBox(words) : dialog.showMessageBox(window, words))
}

function refusal(message: string, problems: readonly Problem[]): MessageBoxOptions {
  return { type: 'warning', message, detail: problems.map(({ what, remedy }) => `${what} ${remedy}`).join('\n') }
}
