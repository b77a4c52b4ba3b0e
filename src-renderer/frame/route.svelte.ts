/** Which stage is open. Kept in the address's fragment, so that reload and Back do what they should. */
import { stages, type StageId } from './stages.ts'

class Route {
  stage = $state<StageId>(read())

  constructor() {
    window.addEventListener('hashchange', () => {
      this.stage = read()
    })
  }

  go(stage: StageId) {
    location.hash = stage
  }
}

function read(): StageId {
  const named = location.hash.slice(1)
  return stages.find((stage) => stage.id === named)?.id ?? 'plan'
}

export const route = new Route()
