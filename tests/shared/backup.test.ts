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
  // The last day whole, and the newest ten; then one a day; past the month one a week.
  expect(days.filter((hours) => hours < 24)).toEqual([1, 9, 17])
  expect(days.slice(0, 10)).toEqual(threeADay.slice(0, 10).map(({ fileName }) => Number(fileName)))
  // Four of the ten are neither of the last day nor the last of theirs.
  expect(days.filter((hours) => hours >= 24 && hours < 31 * 24)).toHaveLength(31 + 4)
  expect(days.filter((hours) => hours >= 31 * 24).length).toBeGreaterThanOrEqual(4)
  expect(days.filter((hours) => hours >= 31 * 24).length).toBeLessThanOrEqual(5)
  const twoYears = Array.from({ length: 730 }, (_, at) => row(24 * at + 1))
  expect(Math.max(...kept(twoYears).map(Number))).toBeLessThanOrEqual(366 * 24)
})

test('the newest ten that were made by themselves stay, however old they are', () => {
  const weekly = Array.from({ length: 30 }, (_, at) => row(3 * 366 * 24 + at * 7 * 24))
  expect(kept(weekly).length).toBeGreaterThanOrEqual(10)
  const minutes = Array.from({ length: 12 }, (_, at) => row(40 * 24 + at / 3))
  expect(kept(minutes)).toEqual(minutes.slice(0, 10).map(({ fileName }) => fileName))
  // Those made by hand are counted apart.
  expect(kept([...minutes, ...Array.from({ length: 20 }, (_, at) => row(30 * 24 + at, 'by hand'))])).toHaveLength(30)
})

test('a clock that jumps takes none: ahead by thirteen months, for one start or for many, and back again', () => {
  const daily = Array.from({ length: 400 }, (_, at) => row(24 * at + 1))
  const before = kept(daily)
  const rows = daily.filter(({ fileName }) => before.includes(fileName))
  const after = (jump: number, more: BackupRow[]) => {
    const gone = outlived([...rows, ...more], new Date(now.getTime() + jump * hour))
    return gone.map(({ fileName }) => fileName)
  }
  const month = 30 * 24
  const nextDay = after(24, [])
  for (const jump of [2 * month, 13 * month, 40 * month]) {
    // No more than a day later would: the oldest day of a month becomes one of its week.
    expect(nextDay).toEqual(expect.arrayContaining(after(jump, [])))
    const ahead = Array.from({ length: 5 }, (_, at) => row(-jump - at))
    expect(nextDay).toEqual(expect.arrayContaining(after(jump + 6, ahead)))
    // Right again, with what the wrong clock has dated.
    expect(nextDay).toEqual(expect.arrayContaining(after(2, [...ahead, row(-1)])))
  }
})

test('a farm that nobody touched for 366 days keeps its backups at its first closing', () => {
  const season = Array.from({ length: 60 }, (_, at) => row(366 * 24 + 24 * at))
  const before = outlived(season, new Date(now.getTime() - 365 * 24 * hour)).length
  expect(outlived([row(0, 'on closing'), ...season], now).length).toBeLessThanOrEqual(before + 1)
})

test('those made on purpose stay, and so does one that a clock moved back has dated tomorrow', () => {
  const old = 3 * 366 * 24
  expect(kept([row(old, 'by hand'), row(old, 'end of season'), row(old, 'before a newer version')])).toHaveLength(3)
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
