/** Which page is open. Kept in the address's fragment, so that reload and Back do what they should. */
import { stages, topPages, type PageId } from './stages.ts'

class Route {
  stage = $state<PageId>(read())

  constructor() {
    window.addEventListener('hashchange', () => {
      this.stage = read()
    })
  }

  go(stage: PageId) {
    location.hash = stage
  }
}

function read(): PageId {
  const named = location.hash.slice(1)
  return [...topPages, ...stages].find((page) => page.id === named)?.id ?? 'plan'
}

export const route = new Route()
