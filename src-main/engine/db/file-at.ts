/** A file, and nothing else that bears its name. */
import { statSync, type Stats } from 'node:fs'

/** A file that can be looked at; null for a folder, for nothing, and for a link that leads nowhere or in a circle. */
export function fileAt(path: string): Stats | null {
  try {
    const file = statSync(path)
    return file.isFile() ? file : null
  } catch {
    return null
  }
}
