/** Keeps the menu bar true: which farm can be saved and closed, and which were open before. */
import type { News } from '../../src-shared/api.ts'
import type { EngineProcess } from './engine-process.ts'
import { setMenu, type MenuDeeds } from './menu.ts'

export function keepMenu(deeds: MenuDeeds) {
  setMenu(deeds, { isOpen: false, recent: [] })
  let last = ''

  /** Asks the engine again where the news may change what the menu says. */
  async function follow(engine: EngineProcess, news: News): Promise<void> {
    const isBegin = news.kind === 'engine' && news.state !== 'stopped'
    if (!isBegin && !(news.kind === 'changed' && news.tables.includes('farm'))) return
    const [farm, recent] = await Promise.all([engine.call('farm.current', {}), engine.desk('desk.recent', {})])
    const state = { isOpen: farm.ok && farm.value !== null, recent: recent.ok ? recent.value : [] }
    // A menu that is made anew closes the one that is being looked at.
    const now = JSON.stringify(state)
    if (now === last) return
    last = now
    setMenu(deeds, state)
  }

  return { follow }
}
