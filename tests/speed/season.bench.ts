/**
 * `npm run bench:season [-- S,M,L [seeds]]`: farms of three sizes from their seasons to the proven plan (0.1 %, whole packs), so that what
 * options are built counts as well; `bench:plan` begins with options that are there. Prints options and seconds; asserts nothing.
 */
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { Season } from '../../src-shared/season.ts'
import { optionsFarm } from './options-farm.ts'

const sizes = { S: [12, 8, 3], M: [60, 15, 5], L: [300, 25, 8] } as const
type Size = keyof typeof sizes

/** Quotes of every variety by two dealers in three, with breaks; yield and price differ, so that varieties compete. */
function farmOf(size: Size, seed: number): Season {
  const [fields, varieties, dealers] = sizes[size]
  const season = optionsFarm(fields)
  const draw = (n: number) => ((Math.sin(n * 12.9898 + seed * 78.233) * 43_758.5453) % 1) ** 2
  return {
    ...season,
    varieties: season.varieties.slice(0, varieties).map((variety, i) => ({
      ...variety,
      yieldIndex: 0.94 + 0.12 * draw(i),
      oilType: i % 2 === 0 ? 'high oleic' : 'normal',
    })),
    dealers: Array.from({ length: dealers }, (_, d) => ({
      name: `Dealer ${d}`,
      orderFeeCents: 5000 * d,
      leastPounds: 0,
      breaks: [{ fromPounds: 20_000 + 5000 * d, offCentsPerPound: 1.5 + 0.5 * draw(100 + d) }],
    })),
    quotes: Array.from({ length: dealers }, (_, d) =>
      season.quotes
        .slice(0, varieties)
        .filter((_quote, i) => (i + d) % 3 !== 0)
        .map((quote, i) => ({
          ...quote,
          dealer: `Dealer ${d}`,
          packPriceCents: Math.round(quote.packPriceCents * (0.96 + 0.08 * draw(1000 * d + i))),
          breaks: [{ fromPacks: 150, packPriceCents: Math.round(quote.packPriceCents * 0.93) }],
        })),
    ).flat(),
    rules: [
      ...season.rules,
      { rule: 'largest-share', amount: 0.5, isOn: true },
      { rule: 'most-varieties', amount: 5, isOn: true },
      { rule: 'most-dealers', amount: 3, isOn: true },
    ],
  }
}

const [sizesAsked = 'S,M,L', seedsAsked = '3'] = process.argv.slice(2)
const solver = new Solver()
for (const size of sizesAsked.split(',') as Size[]) {
  for (let seed = 1; seed <= Number(seedsAsked); seed += 1) {
    const cpu = process.cpuUsage()
    const began = performance.now()
    const priced = priceSeason(farmOf(size, seed))
    if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
    const built = process.cpuUsage(cpu).user / 1e6
    const solved = await solveProblem(priced.value.problem, { gap: 0.001, seconds: 120, wholeCents: true }, solver)
    if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
    const user = process.cpuUsage(cpu).user / 1e6
    const seconds = (performance.now() - began) / 1000
    process.stdout.write(
      `${size} ${seed}: ${priced.value.problem.options.length} options, ${solved.value.proof.status} in ${seconds.toFixed(2)} s; ` +
        `of the processor ${user.toFixed(2)} s, ${built.toFixed(2)} s of them for building options\n`,
    )
  }
}
await solver.close()
