/**
 * A warning for a farm in a folder that another program copies while it is open, or that lies on a network: such a program
 * may keep half of a change, and a network drive may not do what SQLite asks of a disk.
 */
import { resolve, sep } from 'node:path'

/** Words that such folders have in their names. A guess by name alone: a word too many is only a warning too many. */
const told = /(^|[^a-z])(\w*cloud|sync\w*|\w*drive|webdav)($|[^a-z])/i

/** @returns words for a person, or null */
export function syncedFolder(folder: string): string | null {
  const path = resolve(folder)
  if (/^\\\\[^\\]/.test(path))
    return 'This farm lies on a network drive. Keep it on this machine, and copies elsewhere.'
  const part = path.split(sep).find((each) => told.test(each))
  if (part === undefined) return null
  return `This farm lies in “${part}”, which looks like a folder that another program copies. Two machines that open it there at one time would spoil it: keep the farm elsewhere, and copies of it there.`
}
