/** How a farm's file is closed in order: what has changed is backed up, the file closed, and sealed with its hash. */
import { sealFile } from './db/seal.ts'
import { hasChanged, isKept, tryBackup } from './backups.ts'
import { diskProblem } from './db/connect.ts'
import { tidy } from './db/tidy.ts'
import type { Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'

/** The engine has no farm afterwards. A backup or seal that fails is noted, and never keeps a file open. */
export function letGo(engine: Engine): void {
  const { farm } = engine
  if (farm === null) return
  engine.farm = null
  const now = new Date()
  if (farm.copyOf === null && farm.connection.open) tidyUp(engine, farm, now)
  if (farm.copyOf === null && farm.connection.open && isKept(farm) && hasChanged(farm, now))
    tryBackup(farm, 'on closing', now)
  farm.close()
  if (farm.copyOf !== null) return
  try {
    sealFile(farm.path)
  } catch (error) {
    engine.noteBug('seal', error)
  }
}

/** A disk that refuses keeps the file as it is, which is whole. */
function tidyUp(engine: Engine, farm: OpenFarm, now: Date): void {
  try {
    tidy(farm.connection, now)
  } catch (error) {
    if (diskProblem(farm.path, error) === null) engine.noteBug('tidy', error)
  }
}
