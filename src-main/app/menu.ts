/**
 * The menu bar: what every program of the system has, and the farm as a file. What belongs to the page (undo, paper) is
 * wished of the page, which knows what it shows; its keys are the page's own, so that a cell being typed keeps its undo.
 */
import { Menu, type MenuItemConstructorOptions } from 'electron'
import type { FarmPlace } from '../../src-shared/api-desk.ts'
import type { Wish } from '../../src-shared/api.ts'

export interface MenuDeeds {
  wish(wish: Wish): void
  closeFarm(): void
  chooseFarm(): void
  openFarm(path: string): void
  saveCopy(): void
  moveFarm(): void
  backUp(): void
  savePdf(): void
  showHome(): void
}

export interface MenuState {
  isOpen: boolean
  recent: readonly FarmPlace[]
}

const isMac = process.platform === 'darwin'

export function setMenu(deeds: MenuDeeds, state: MenuState): void {
  Menu.setApplicationMenu(Menu.buildFromTemplate(template(deeds, state)))
}

const template = (deeds: MenuDeeds, { isOpen, recent }: MenuState): MenuItemConstructorOptions[] => [
  ...(isMac ? [{ role: 'appMenu' as const }] : []),
  {
    label: '&File',
    submenu: [
      { label: '&New farm', accelerator: 'CmdOrCtrl+N', click: () => deeds.wish('new farm') },
      { label: '&Open a farm…', accelerator: 'CmdOrCtrl+O', click: () => deeds.chooseFarm() },
      {
        label: 'Go on &with',
        enabled: recent.length > 0,
        submenu: recent.map(({ fileName, path }) => ({
          label: fileName.replace(/\.farm$/, '').replaceAll('&', '&&'),
          toolTip: path,
          click: () => deeds.openFarm(path),
        })),
      },
      { type: 'separator' },
      { label: '&Save a copy…', accelerator: 'CmdOrCtrl+Shift+S', enabled: isOpen, click: () => deeds.saveCopy() },
      { label: '&Move…', enabled: isOpen, click: () => deeds.moveFarm() },
      { label: '&Back up now', enabled: isOpen, click: () => deeds.backUp() },
      { type: 'separator' },
      { label: '&Print…', accelerator: 'CmdOrCtrl+P', enabled: isOpen, click: () => deeds.wish('print') },
      { label: 'Page as P&DF…', enabled: isOpen, click: () => deeds.savePdf() },
      { type: 'separator' },
      { label: '&Close the farm', accelerator: 'CmdOrCtrl+W', enabled: isOpen, click: () => deeds.closeFarm() },
      ...(isMac ? [] : [{ role: 'quit' as const }]),
    ],
  },
  {
    label: '&Edit',
    submenu: [
      { label: '&Undo', accelerator: 'CmdOrCtrl+Z', registerAccelerator: false, click: () => deeds.wish('undo') },
      {
        label: '&Redo',
        accelerator: isMac ? 'Cmd+Shift+Z' : 'Ctrl+Y',
        registerAccelerator: false,
        click: () => deeds.wish('redo'),
      },
      { type: 'separator' },
      { role: 'cut' },
      { role: 'copy' },
      { role: 'paste' },
      { role: 'selectAll' },
    ],
  },
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
  ...(isMac ? [{ role: 'windowMenu' as const }] : []),
  {
    role: 'help',
    submenu: [
      { label: 'Where the farms are &kept', click: () => deeds.showHome() },
      ...(isMac ? [] : [{ role: 'about' as const, label: '&About Standwell' }]),
    ],
  },
]
