/**
 * What tables say, written down by hand before the program read them (by-hand.json): a value is read as it was meant, or not at
 * all, never as another. How many are read is kept by messy.test.ts; that none is silently wrong is kept here.
 */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { recognizeFile } from '../support/recognized.ts'

interface ByHand {
  noun: string
  /** [row] of the file → its records. */
  rows: Record<string, Record<string, unknown>[]>
}

const meant = JSON.parse(readFileSync(join(import.meta.dirname, 'by-hand.json'), 'utf8')) as Record<string, ByHand[]>
const near = (value: unknown) => (typeof value === 'number' ? Number(value.toPrecision(9)) : value)

test.each(Object.keys(meant))('%s', async (name) => {
  const found = await recognizeFile(name, readFileSync(join(import.meta.dirname, 'files', name)))
  const readings = found.flatMap(({ table, reading }) => (reading ? [{ noun: table.match.noun, reading }] : []))
  const wrong: unknown[] = []
  let right = 0
  for (const [at, { noun, rows }] of (meant[name] as ByHand[]).entries()) {
    expect(readings[at]?.noun).toBe(noun)
    for (const [row, records] of Object.entries(rows)) {
      const read = readings[at]?.reading.rows.find((each) => each.row === Number(row))?.records ?? []
      for (const [place, record] of records.entries()) {
        // Of several quotes of a row, the one at that price.
        const own = read.find(
          (each) => 'packPriceCents' in record && each['packPriceCents'] === record['packPriceCents'],
        )
        for (const [path, value] of Object.entries(record)) {
          const given = (own ?? read[place])?.[path]
          if (JSON.stringify(near(given)) === JSON.stringify(near(value))) right += 1
          else if (given !== undefined) wrong.push({ row, path, given, value })
        }
      }
    }
    const others = readings[at]?.reading.rows.map(({ row }) => row).filter((row) => !(row in rows))
    expect(others).toEqual([])
  }
  expect(wrong).toEqual([])
  expect(right).toBeGreaterThan(0)
})
