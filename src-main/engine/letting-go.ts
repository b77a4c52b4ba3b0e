/** How a farm's file is closed in order: what has changed is backed up, the file closed, and sealed with its hash. */
import { sealFile } from './db/seal.ts'
import { hasChanged, isKept, tryBackup } from './backups.ts'
import type { Engine } from './engine.ts'

/** The engine has no farm afterwards. A backup or seal that fails is noted, and never keeps a file open. */
export function letGo(engine: Engine): void {
  const { farm } = engine
  if (farm === null) return
  engine.farm = null
  const now = new Date()
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
