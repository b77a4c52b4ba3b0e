/** Measures the season review on a farm file with 300 fields, 40 lots and 3,000 loads. Run by `review.bench.ts`. */
import { mkdtempSync, rmSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join } from 'node:path'
import { textTable } from '../../src-main/engine/export/text-table.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { readReviewInput } from '../../src-main/engine/review-input.ts'
import { lessonsNow, reviewNow, workingNow } from '../../src-main/engine/reviewing.ts'
import { reckon, reviewOf } from '../../src-shared/review/review.ts'
import { randomRecord } from '../support/review-input.ts'
import { fill } from './review-farm.ts'

const rounds = Number(process.argv[2] ?? 7)
const folder = mkdtempSync(join(tmpdir(), 'standwell-bench-'))
try {
  const record = randomRecord(5, { fields: 300, lots: 40, loads: 3000 })
  const made = createFarm(join(folder, 'Bench.farm'), record.season)
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  const farm = made.value
  await fill(farm, record)
  const review = await reviewNow(farm, undefined)
  process.stdout.write(
    `${review.money.field.rows.length} rows by field, ${review.has.lots} lots, ${review.has.plantings} plantings, ` +
      `${review.has.loads} loads; median of ${rounds} on ${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}\n`,
  )
  const input = await readReviewInput(farm)
  const figure = { of: 'money', view: 'field', key: '', what: 'cost' } as const
  const works: [string, () => unknown][] = [
    ['gathering from the file', () => readReviewInput(farm)],
    ['reckoning', () => reviewOf(reckon(input))],
    ['the review, both together', () => reviewNow(farm, undefined)],
    ['one working', () => workingNow(farm, undefined, figure)],
    ['the lessons', () => lessonsNow(farm, undefined)],
  ]
  const rows: string[][] = []
  for (const [name, work] of works) rows.push([name, (await median(work)).toFixed(0)])
  rows.push(['megabytes as it is sent', (JSON.stringify(review).length / 1e6).toFixed(2)])
  process.stdout.write(textTable(['', 'ms'], rows, [1]))
  farm.close()
} finally {
  rmSync(folder, { recursive: true, force: true })
}

async function median(work: () => unknown): Promise<number> {
  const times: number[] = []
  for (let round = 0; round < rounds; round += 1) {
    const begun = performance.now()
    await work()
    times.push(performance.now() - begun)
  }
  return times.sort((a, b) => a - b)[rounds >> 1] ?? 0
}
