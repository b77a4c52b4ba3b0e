/** Plans one synthetic farm in a process of its own, so that its memory can be told; prints one line of JSON. */
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { syntheticFarm, type Size } from './synthetic-farm.ts'

const [size = 'XL', seed = '1', gap = '0.005', seconds = '120'] = process.argv.slice(2)
const problem = syntheticFarm(size as Size, Number(seed))
const solved = await solveProblem(problem, { gap: Number(gap), seconds: Number(seconds), wholeCents: true })
if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
const { proof } = solved.value
process.stdout.write(
  `${JSON.stringify({
    seconds: proof.seconds,
    cost: (proof.costCents ?? Number.NaN) / 100,
    gap: proof.gap,
    status: proof.status,
    megabytes: Math.round(process.resourceUsage().maxRSS / 1024),
  })}\n`,
)
