/** All that a page can reach beyond itself: one typed call and one subscription. Nothing else goes through here. */
import { contextBridge, ipcRenderer } from 'electron'
import type { News, Transport } from '../src-shared/api.ts'

const transport: Transport = {
  call: (name, input) => ipcRenderer.invoke('call', name, input),
  listen(hear) {
    const pass = (_event: unknown, news: News) => hear(news)
    ipcRenderer.on('news', pass)
    return () => ipcRenderer.off('news', pass)
  },
}

contextBridge.exposeInMainWorld('standwell', transport)
