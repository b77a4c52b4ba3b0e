/** Copies of a farm's file: why each was made, how its name says so, and which are kept as they grow old. Pure. */
import type { Problem } from './problem.ts'

export const backupReasons = [
  'by hand',
  'on closing',
  'while working',
  'before a newer version',
  'before going back',
  'end of season',
] as const
export type BackupReason = (typeof backupReasons)[number]

export interface BackupRow {
  fileName: string
  /** ISO time. */
  madeAt: string
  reason: BackupReason
  /** [byte] */
  size: number
}

export interface BackupsNow {
  backups: BackupRow[]
  /** Names of what was put aside beside the farm, as a journal of another: nothing of it is deleted. */
  aside: string[]
  /** Why the last that was due was not made; null where none failed. */
  fault: Problem | null
  /** In words, where the farm lies in a folder that other programs copy or that is on a network; null where it does not. */
  warning: string | null
  /** Pictures of tags that the file names and does not hold, as where a backup was opened by itself. */
  missingPictures: number
}

/** Made on purpose, or before something that cannot be taken back: these are kept until a person removes them. */
const keptForEver: readonly BackupReason[] = ['by hand', 'before a newer version', 'end of season']

const day = 24 * 3600 * 1000 // [ms]

/**
 * "2027-01-05 14.30.05 on closing": sorts by age, and is a name on every system. Times are UTC, so that a laptop that
 * travels, or turns its clock for summer, does not mix them up.
 */
export function backupName(at: Date, reason: BackupReason): string {
  return `${at.toISOString().slice(0, 19).replace('T', ' ').replaceAll(':', '.')} ${reason}`
}

/** What a file's name says of it; null for one that is no backup. @param name without its ending */
export function readBackupName(name: string): Pick<BackupRow, 'madeAt' | 'reason'> | null {
  const match = /^(\d{4}-\d{2}-\d{2}) (\d{2})\.(\d{2})\.(\d{2}) ([a-z ]+?)(?: \d+)?$/.exec(name)
  if (match === null) return null
  const [, date, hours, minutes, seconds, words] = match
  const reason = backupReasons.find((each) => each === words)
  const at = new Date(`${date}T${hours}:${minutes}:${seconds}.000Z`)
  return reason === undefined || Number.isNaN(at.getTime()) ? null : { madeAt: at.toISOString(), reason }
}

/** Of those made by themselves, so many of the newest stay, however old they are. */
const always = 10

/** [ms] A longer time between two backups is a pause, or a clock that jumped: it tells nothing of their age. */
const pause = 14 * day

/**
 * Which have had their time: kept are all of the last day, the last of each day for a month, the last of each week for a
 * year, the newest ten, and for ever those made on purpose. Age counts the time in which backups were made: a clock set
 * wrong by months, or a farm left alone for as long, makes them a day older, no more.
 */
export function outlived(backups: readonly BackupRow[], now: Date): BackupRow[] {
  const taken = new Set<string>()
  const newestFirst = backups.toSorted((a, b) => b.madeAt.localeCompare(a.madeAt))
  let age = 0
  let last = now.getTime()
  let byThemselves = 0
  return newestFirst.filter(({ madeAt, reason }) => {
    const at = new Date(madeAt).getTime()
    const gap = Math.max(0, last - at)
    age += gap > pause ? day : gap
    last = at
    if (keptForEver.includes(reason)) return false
    byThemselves += 1
    const slot = age < 31 * day ? `day ${Math.floor(at / day)}` : `week ${Math.floor((at / day + 3) / 7)}`
    const isOver = age >= day && (age > 366 * day || taken.has(slot))
    if (age >= day && !isOver) taken.add(slot)
    return isOver && byThemselves > always
  })
}
