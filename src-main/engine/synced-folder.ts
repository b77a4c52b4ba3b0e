/**
 * A warning for a farm in a folder that another program copies while it is open, or that lies on a network: such a program
 * may keep half of a change, and a network drive may not do what SQLite asks of a disk.
 */
import { readdirSync } from 'node:fs'
import { homedir } from 'node:os'
import { dirname, resolve, sep } from 'node:path'

/** Words that such folders have in their names. A guess by name alone: a word too many is only a warning too many. */
const told = /(^|[^a-z])(\w*cloud|sync\w*|\w*drive|webdav)($|[^a-z])/i

/**
 * What programs that synchronise leave in the folders that they look after: a hidden file or folder that speaks of it, or a
 * second version of a file. In general terms: no program is known by its name.
 */
const marker = /^[._~].*(sync|cloud|drive)|[. ]sync[-_]conflict|conflict(ed|ing)? (copy|version)/i

/** @returns words for a person, or null */
export function syncedFolder(folder: string): string | null {
  const path = resolve(folder)
  if (/^\\\\[^\\]/.test(path))
    return 'This farm lies on a network drive. Keep it on this machine, and copies elsewhere.'
  const part = path.split(sep).find((each) => told.test(each)) ?? markedFolder(path)
  if (part === null) return null
  return `This farm lies in “${part}”, which looks like a folder that another program copies. Two machines that open it there at one time would spoil it: keep the farm elsewhere, and copies of it there.`
}

/** The folder itself, or one that it lies in, that has such a marker; null where there is none or it cannot be read. */
function markedFolder(folder: string): string | null {
  // A person's own folder holds the settings of all programs: what is hidden there tells nothing.
  for (let at = folder; at !== dirname(at) && at !== homedir(); at = dirname(at)) {
    try {
      if (readdirSync(at).some((name) => marker.test(name))) return at.split(sep).at(-1) ?? at
    } catch {
      // One that may not be read has nothing to tell.
    }
  }
  return null
}
