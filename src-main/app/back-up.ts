/** A backup from the menu: made by the engine, and its name, or what stood in the way, told in the system's own box. */
import { BrowserWindow, dialog } from 'electron'
import type { BackupRow } from '../../src-shared/backup.ts'
import type { EngineProcess } from './engine-process.ts'

export async function backUp(engine: EngineProcess): Promise<void> {
  const reply = await engine.call('backup.make', {})
  const told = reply.ok
    ? { type: 'info' as const, message: 'A backup was made.', detail: (reply.value as BackupRow).fileName }
    : { type: 'warning' as const, message: 'No backup was made.', detail: wordsOf(reply.problems) }
  const window = BrowserWindow.getFocusedWindow()
  await (window === null ? dialog.showMessageBox(told) : dialog.showMessageBox(window, told))
}

function wordsOf(problems: readonly { what: string; remedy: string }[]): string {
  return problems.map(({ what, remedy }) => `${what} ${remedy}`).join('\n')
}
