/**
 * Zips that strangers made, unpacked within bounds and packed anew: what reads them afterwards sees whole entries of the size
 * that was found, whatever their directory said. A few kilobytes can claim to be little and unpack to gigabytes.
 */
import { unzipSync, zipSync } from 'fflate'

/** [byte] of all entries together, unpacked. */
const mostUnpacked = 64 * 1024 * 1024
/** How many times its packed size a large zip may unpack to. */
const mostTimes = 200
const mostEntries = 5000

export type Zip = { ok: true; bytes: Buffer; files: Record<string, Uint8Array> } | { ok: false; why: string }

/** The same entries, not packed; or why not. */
export function safeZip(bytes: Buffer): Zip {
  let unpacked = 0
  let entries = 0
  let isHuge = false
  try {
    // An entry is given the room that it says it needs: one that needs more fails, and is refused below.
    const files = unzipSync(bytes, {
      filter({ originalSize }) {
        unpacked += originalSize
        entries += 1
        isHuge ||= unpacked > mostUnpacked || entries > mostEntries
        return !isHuge
      },
    })
    if (isHuge || (unpacked > 1024 * 1024 && unpacked > mostTimes * bytes.length)) return { ok: false, why: tooLarge }
    if (Object.keys(files).length === 0) return { ok: false, why: 'there is nothing in it' }
    return { ok: true, bytes: Buffer.from(zipSync(files, { level: 0 })), files }
  } catch {
    return { ok: false, why: 'it is not a whole zip file' }
  }
}

const tooLarge = 'unpacked it would be far larger than a table of a farm'
