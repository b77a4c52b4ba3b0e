import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  backupName,
  backupReasons,
  outlived,
  readBackupName,
  type BackupReason,
  type BackupRow,
} from '../../src-shared/backup.ts'

const hour = 3600 * 1000
const now = new Date('2027-06-15T12:00:00Z')
const row = (hoursAgo: number, reason: BackupReason = 'while working'): BackupRow => {
  const at = new Date(now.getTime() - hoursAgo * hour)
  return { fileName: `${hoursAgo}`, madeAt: at.toISOString(), reason, size: 1 }
}
const kept = (rows: BackupRow[]) => {
  const gone = new Set(outlived(rows, now).map(({ fileName }) => fileName))
  return rows.map(({ fileName }) => fileName).filter((name) => !gone.has(name))
}

test('a name says when and why, and is read back', () => {
  for (const reason of backupReasons) {
    const name = backupName(new Date('2027-01-05T14:30:05Z'), reason)
    expect(name).toBe(`2027-01-05 14.30.05 ${reason}`)
    expect(readBackupName(name)).toEqual({ madeAt: '2027-01-05T14:30:05.000Z', reason })
    expect(readBackupName(`${name} 2`)).toEqual({ madeAt: '2027-01-05T14:30:05.000Z', reason })
  }
  expect(readBackupName('Creek')).toBeNull()
  expect(readBackupName('2027-13-05 14.30.05 by hand')).toBeNull()
  expect(readBackupName('2027-01-05 14.30.05 by moonlight')).toBeNull()
})

test('all of the last day, the last of each day for a month, the last of each week for a year', () => {
  const everyTwentyMinutes = Array.from({ length: 72 }, (_, at) => row(at / 3))
  expect(kept(everyTwentyMinutes)).toHaveLength(72)
  const threeADay = Array.from({ length: 3 * 60 }, (_, at) => row(8 * at + 1))
  const days = kept(threeADay).map(Number)
  // The last day whole; then one a day; past the month one a week.
  expect(days.filter((hours) => hours < 24)).toEqual([1, 9, 17])
  expect(days.filter((hours) => hours >= 24 && hours < 31 * 24)).toHaveLength(31)
  expect(days.filter((hours) => hours >= 31 * 24).length).toBeGreaterThanOrEqual(4)
  expect(days.filter((hours) => hours >= 31 * 24).length).toBeLessThanOrEqual(5)
  expect(kept([row(367 * 24), row(20 * 24)])).toEqual([`${20 * 24}`])
})

test('those made on purpose stay, and so does one that a clock moved back has dated tomorrow', () => {
  const old = 3 * 366 * 24
  expect(kept([row(old, 'by hand'), row(old, 'end of season'), row(old, 'before a newer version')])).toHaveLength(3)
  expect(kept([row(old, 'on closing')])).toEqual([])
  expect(kept([row(-5), row(-5 * 24)])).toHaveLength(2)
})

test('whatever there is, the newest is kept, and thinning again takes nothing more', () => {
  const any = fc.array(fc.tuple(fc.integer({ min: 0, max: 366 * 24 }), fc.constantFrom(...backupReasons)), {
    minLength: 1,
    maxLength: 80,
  })
  fc.assert(
    fc.property(any, (ages) => {
      const rows = ages.map(([age, reason], at) => ({ ...row(age, reason), fileName: `${at}` }))
      const gone = new Set(outlived(rows, now))
      const left = rows.filter((each) => !gone.has(each))
      const newest = rows.toSorted((a, b) => b.madeAt.localeCompare(a.madeAt))[0]
      expect(left.map(({ madeAt }) => madeAt)).toContain(newest?.madeAt)
      expect(outlived(left, now)).toEqual([])
    }),
  )
})
