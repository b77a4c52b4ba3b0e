/**
 * How large a zip is unpacked, from its own directory, before anything unpacks it: a few kilobytes can hold gigabytes.
 * A directory that lies is caught by the readers' own limits; one that cannot be read is refused.
 */

/** [byte] unpacked, and how many times its packed size. */
export const mostUnpacked = 64 * 1024 * 1024
const mostTimes = 200

const endMark = 0x06054b50
const entryMark = 0x02014b50

/** @returns why it is refused, or null */
export function zipProblem(bytes: Buffer): string | null {
  const end = bytes.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]))
  if (end < 0 || end + 22 > bytes.length || bytes.readUInt32LE(end) !== endMark) return 'it is not a whole zip file'
  const [entries, from] = [bytes.readUInt16LE(end + 10), bytes.readUInt32LE(end + 16)]
  let [at, unpacked] = [from, 0]
  for (let entry = 0; entry < entries; entry += 1) {
    if (at + 46 > bytes.length || bytes.readUInt32LE(at) !== entryMark) return 'its directory is damaged'
    unpacked += bytes.readUInt32LE(at + 24)
    at += 46 + bytes.readUInt16LE(at + 28) + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32)
  }
  if (unpacked > mostUnpacked || (unpacked > 1024 * 1024 && unpacked > mostTimes * bytes.length)) {
    return 'unpacked it would be far larger than a table of a farm'
  }
  return null
}
