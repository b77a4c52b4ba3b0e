/**
 * The menu bar: what the system expects (clipboard, zoom, quit), and a backup. Undo is not here: it is the farm's,
 * kept by the engine, and the page answers its keys.
 */
import type { MenuItemConstructorOptions } from 'electron'
import { Menu } from 'electron'

const template = (backUp: () => void): MenuItemConstructorOptions[] => [
  ...(process.platform === 'darwin' ? [{ role: 'appMenu' as const }] : []),
  {
    label: '&File',
    submenu: [
      { label: '&Back up now', click: backUp },
      { type: 'separator' },
      process.platform === 'darwin' ? { role: 'close' } : { role: 'quit' },
    ],
  },
  { label: '&Edit', submenu: [{ role: 'cut' }, { role: 'copy' }, { role: 'paste' }, { role: 'selectAll' }] },
  {
    label: '&View',
    submenu: [
      { role: 'reload' },
      { type: 'separator' },
      { role: 'zoomIn' },
      { role: 'zoomOut' },
      { role: 'resetZoom' },
      { role: 'togglefullscreen' },
    ],
  },
]

/** @param backUp makes a backup of the open farm and says how that went */
export function setMenu(backUp: () => void) {
  Menu.setApplicationMenu(Menu.buildFromTemplate(template(backUp)))
}
