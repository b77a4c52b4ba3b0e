/** All that a page can reach beyond itself: one typed call, news, itself as a PDF, the menu's wishes, a file that a person dropped. */
import { contextBridge, ipcRenderer, webUtils } from 'electron'
import type { Desk, News, Wish } from '../src-shared/api.ts'

function hearOf<Said>(channel: 'news' | 'wish', hear: (said: Said) => void) {
  const pass = (_event: unknown, said: Said) => hear(said)
  ipcRenderer.on(channel, pass)
  return () => void ipcRenderer.off(channel, pass)
}

const desk: Desk = {
  call: (name, input) => ipcRenderer.invoke('call', name, input) as Promise<string>,
  listen: (hear) => hearOf<News>('news', hear),
  heed: (hear) => hearOf<Wish>('wish', hear),
  pdf: (paper) => ipcRenderer.invoke('pdf', paper) as Promise<string>,
  // Only a file that the system handed over has a path: a page cannot make one up.
  openDropped: (file) => ipcRenderer.invoke('drop', webUtils.getPathForFile(file)) as Promise<void>,
}

contextBridge.exposeInMainWorld('standwell', desk)
