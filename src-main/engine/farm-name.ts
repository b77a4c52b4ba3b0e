/** A farm's name → a file name that every system takes and that is free in its folder. */
import { join } from 'node:path'
import { farmEnding } from './backup-path.ts'

/** Names that Windows keeps for devices, whatever the ending. */
const reserved = /^(con|prn|aux|nul|com\d|lpt\d)$/i

/** [byte] that a file's name may have, so that there is room for what is written beside it; disks take 255. */
const most = 150

/** A name cut between its letters, so that words still go behind it. */
export function fitting(name: string): string {
  let cut = name
  while (Buffer.byteLength(cut) > most) cut = [...cut].slice(0, -1).join('')
  return cut.trim()
}

/** The name without what some system refuses; never empty, never too long, never leaving the folder. */
export function safeName(name: string): string {
  const plain = fitting(name.normalize('NFC'))
    // eslint-disable-next-line no-control-regex -- control characters are what is taken out
    .replace(/[\u0000-\u001f\u007f<>:"/\\|?*]/g, ' ')
    .replace(/\s+/g, ' ')
    .replace(/^[. ]+|[. ]+$/g, '')
  if (plain === '') return 'Farm'
  return reserved.test(plain.split('.')[0]?.trim() ?? '') ? `Farm ${plain}` : plain
}

/** The first of "Name.farm", "Name 2.farm" … that `isFree` accepts. */
export function freePath(folder: string, name: string, isFree: (path: string) => boolean): string {
  const safe = safeName(name)
  for (let n = 1; ; n += 1) {
    const path = join(folder, `${safe}${n === 1 ? '' : ` ${n}`}${farmEnding}`)
    if (isFree(path)) return path
  }
}
