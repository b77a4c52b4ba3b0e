/**
 * `npm run bench:lots [-- seeds]`: 40 lots of six varieties on 60 fields, each variety for at most five seconds to 2 %.
 * Prints what was reached; asserts nothing.
 */
import { cpus } from 'node:os'
import { textTable } from '../../src-main/engine/export/text-table.ts'
import { placeLots } from '../../src-main/engine/plan/lots/place-lots.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { lotFarm } from '../plan/lot-farm.ts'

/** Fields and lots of each variety: 60 and 40 together. */
const varieties = [
  [14, 9],
  [12, 8],
  [10, 7],
  [10, 7],
  [8, 5],
  [6, 4],
] as const
const farms = Number(process.argv[2] ?? 3)
const solver = new Solver()
const table: string[][] = []
for (let farm = 1; farm <= farms; farm += 1) {
  for (const [at, [fields, lots]] of varieties.entries()) {
    const began = performance.now()
    const placed = await placeLots(lotFarm(farm * 100 + at, fields, lots), { gap: 0.02, seconds: 5 }, solver)
    if (!placed.ok) throw new Error(JSON.stringify(placed.problems))
    const seconds = (performance.now() - began) / 1000
    const { gap, endedBy } = placed.value
    table.push([`${farm}`, `${fields}`, `${lots}`, seconds.toFixed(2), `${(gap * 100).toFixed(1)} %`, endedBy])
  }
}
await solver.close()
process.stdout.write(textTable(['Farm', 'Fields', 'Lots', 'Seconds', 'Gap', 'Ended by'], table, [1, 2, 3, 4]))
const closed = table.filter(([, , , , , endedBy]) => endedBy !== 'time').length
process.stdout.write(
  `${closed} of ${table.length} to 2 % in 5 s; ${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}\n`,
)
