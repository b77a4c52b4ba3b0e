/** All that a page can reach beyond itself: one typed call, one subscription, itself as a PDF. Nothing else goes through here. */
import { contextBridge, ipcRenderer } from 'electron'
import type { Desk, News, Transport } from '../src-shared/api.ts'

const transport: Transport & Desk = {
  call: (name, input) => ipcRenderer.invoke('call', name, input),
  listen(hear) {
    const pass = (_event: unknown, news: News) => hear(news)
    ipcRenderer.on('news', pass)
    return () => ipcRenderer.off('news', pass)
  },
  pdf: (paper) => ipcRenderer.invoke('pdf', paper) as Promise<string>,
}

contextBridge.exposeInMainWorld('standwell', transport)
