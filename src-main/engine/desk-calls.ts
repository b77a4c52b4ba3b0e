/** How the engine answers the desktop shell. Kept from the pages' handlers, so that no page's call can name a path. */
import { basename } from 'node:path'
import type { DeskCallName, DeskInput, DeskOutput } from '../../src-shared/api-desk.ts'
import type { Engine } from './engine.ts'
import { farmSummary } from './farms.ts'
import { copyTo } from './keeper/copying.ts'
import { moveTo } from './keeper/moving.ts'
import { openFarmAt } from './open-close.ts'
import { farmAtHand, openedFarms } from './recent.ts'

export const deskHandlers: {
  [Name in DeskCallName]: (engine: Engine, input: DeskInput<Name>) => DeskOutput<Name> | Promise<DeskOutput<Name>>
} = {
  'desk.home': (engine) => engine.home,
  'desk.recent': (engine) => openedFarms(engine.home).map(place),
  'desk.open': async (engine, { path }) => farmSummary(openFarmAt(engine, path)),
  'desk.copyTo': (engine, { path }) => place(copyTo(farmAtHand(engine), path)),
  'desk.moveTo': (engine, { path }) => place(moveTo(engine, path).path),
}

const place = (path: string) => ({ path, fileName: basename(path) })
