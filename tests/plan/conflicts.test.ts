/**
 * Planted conflicts, each with its known set of rules: the set named is the set planted, every one of it is needed,
 * and giving way by the amount told settles it. Checked by solving again, not by the finder's own word.
 * Long because each conflict stands whole beside what it must be told as.
 */
import { afterAll, describe, expect, it } from 'vitest'
import { findConflict } from '../../src-main/engine/plan/conflict.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import type { ModelArrays } from '../../src-main/engine/plan/linear-model.ts'
import type { SolveAnswer } from '../../src-main/engine/plan/run-model.ts'
import { Solver, type RunOptions } from '../../src-main/engine/plan/solver.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { readPlanProblem, type PlanProblem } from '../../src-shared/plan-problem.ts'

const solver = new Solver()
afterAll(() => solver.close())

/** [s] The clock is the last net; what is found out hangs on work. */
const unhurried = { seconds: 600 }

/** Eight fields of 50 acres, four varieties, two windows; planter 0.2 h an acre; 100 lb an acre, bags of 50 lb. */
function base(): PlanProblem {
  const fields = Array.from({ length: 8 }, (_, f) => ({ id: `F${f}`, acres: 50 }))
  const varieties = ['A', 'B', 'C', 'D'].map((id) => ({ id, oilType: id === 'D' ? 'normal' : 'high oleic' }))
  const raw = {
    format: 'standwell-problem',
    version: 1,
    fields,
    varieties,
    options: fields.flatMap((field, f) =>
      varieties.flatMap((variety, v) =>
        ['Early', 'Usual'].map((window) => ({
          field: field.id,
          variety: variety.id,
          window,
          cashCents: 4000 + 300 * v + 50 * f,
          lossCents: 2000 + 100 * ((v * 3 + f) % 5),
          poundsPerAcre: 100,
          planterHours: 0.2,
          diggerHours: 0.3,
          digWeek: window === 'Early' ? 'week 1' : 'week 2',
        })),
      ),
    ),
    dealers: [{ id: 'N' }, { id: 'S' }],
    quotes: varieties.flatMap((variety) =>
      ['N', 'S'].map((dealer) => ({
        id: `${dealer} ${variety.id}`,
        dealer,
        variety: variety.id,
        packPounds: 50,
        packPriceCents: 4600,
      })),
    ),
  }
  const problem = readPlanProblem(JSON.parse(JSON.stringify(raw)), 'base')
  if (!problem.ok) throw new Error(JSON.stringify(problem.problems))
  return problem.value
}

type Change = (problem: PlanProblem) => void

function quotesOf(problem: PlanProblem, varieties: string[], packs: number): void {
  for (const quote of problem.quotes) if (varieties.includes(quote.variety)) quote.availablePacks = packs
}

const noiseRules: Change = (problem) => {
  // Rules that bind nothing here must never be named.
  problem.rules.budgetCents = 100_000_000
  problem.rules.mostDealers = 2
  problem.rules.planterHours = [
    { in: 'Early', hours: 500 },
    { in: 'Usual', hours: 500 },
  ]
}

const cases: [string, Change, string[]][] = [
  [
    'a lock on what was ruled out',
    ({ rules }) => (
      (rules.locks = [{ field: 'F1', variety: 'A' }]),
      (rules.exclusions = [{ field: 'F1', variety: 'A' }])
    ),
    ['lock/F1/A', 'exclusion/F1/A/'],
  ],
  [
    'two locks on one field',
    ({ rules }) =>
      (rules.locks = [
        { field: 'F1', variety: 'A' },
        { field: 'F1', variety: 'B' },
      ]),
    ['lock/F1/A', 'lock/F1/B'],
  ],
  [
    'a contract for more acres than there are',
    ({ rules }) => (rules.contracts = [{ oilType: 'high oleic', acres: 410 }]),
    ['contract/high oleic'],
  ],
  [
    'two contracts for more acres than there are',
    ({ rules }) =>
      (rules.contracts = [
        { oilType: 'high oleic', acres: 250 },
        { oilType: 'normal', acres: 200 },
      ]),
    ['contract/high oleic', 'contract/normal'],
  ],
  [
    'a contract for an oil type nobody has',
    ({ rules }) => (rules.contracts = [{ oilType: 'mid oleic', acres: 10 }]),
    ['contract/mid oleic'],
  ],
  [
    'planters too slow in both windows',
    ({ rules }) =>
      (rules.planterHours = [
        { in: 'Early', hours: 30 },
        { in: 'Usual', hours: 30 },
      ]),
    ['planter-hours/Early', 'planter-hours/Usual'],
  ],
  [
    'planter and window closed',
    ({ rules }) => ((rules.planterHours = [{ in: 'Usual', hours: 60 }]), (rules.exclusions = [{ window: 'Early' }])),
    ['exclusion///Early', 'planter-hours/Usual'],
  ],
  [
    'diggers too slow in both weeks',
    ({ rules }) =>
      (rules.diggerHours = [
        { in: 'week 1', hours: 45 },
        { in: 'week 2', hours: 45 },
      ]),
    ['digger-hours/week 1', 'digger-hours/week 2'],
  ],
  [
    'planter against digger',
    ({ rules }) => (
      (rules.planterHours = [{ in: 'Early', hours: 30 }]),
      (rules.diggerHours = [{ in: 'week 2', hours: 60 }])
    ),
    ['digger-hours/week 2', 'planter-hours/Early'],
  ],
  [
    'shares that leave acres over',
    ({ rules }) => (rules.largestShare = [{ share: 0.2 }]),
    ['largest-share/A', 'largest-share/B', 'largest-share/C', 'largest-share/D'],
  ],
  [
    'a share under a contract',
    ({ rules }) => (
      (rules.contracts = [{ oilType: 'normal', acres: 200 }]),
      (rules.largestShare = [{ variety: 'D', share: 0.25 }])
    ),
    ['contract/normal', 'largest-share/D'],
  ],
  [
    'a share under locks',
    ({ rules }) => (
      (rules.locks = ['F0', 'F1', 'F2'].map((field) => ({ field, variety: 'A' }))),
      (rules.largestShare = [{ variety: 'A', share: 0.3 }])
    ),
    ['largest-share/A', 'lock/F0/A', 'lock/F1/A', 'lock/F2/A'],
  ],
  [
    'few varieties against small shares',
    ({ rules }) => ((rules.mostVarieties = 2), (rules.largestShare = [{ share: 0.4 }])),
    ['largest-share/A', 'largest-share/B', 'largest-share/C', 'largest-share/D', 'most-varieties'],
  ],
  [
    'more varieties wanted than allowed',
    ({ rules }) => ((rules.fewestVarieties = 4), (rules.mostVarieties = 3)),
    ['fewest-varieties', 'most-varieties'],
  ],
  ['more varieties wanted than there are', ({ rules }) => (rules.fewestVarieties = 5), ['fewest-varieties']],
  [
    'varieties ruled out under a least number',
    ({ rules }) => ((rules.fewestVarieties = 4), (rules.exclusions = [{ variety: 'C' }])),
    ['exclusion//C/', 'fewest-varieties'],
  ],
  [
    'locks to three varieties, two allowed',
    ({ rules }) => (
      (rules.mostVarieties = 2),
      (rules.locks = [
        ['F0', 'A'],
        ['F1', 'B'],
        ['F2', 'C'],
      ].map(([field, variety]) => ({ field: field!, variety: variety! })))
    ),
    ['lock/F0/A', 'lock/F1/B', 'lock/F2/C', 'most-varieties'],
  ],
  ['a budget nobody can keep', ({ rules }) => (rules.budgetCents = 4_500_000), ['budget']],
  [
    'a budget under a dear lock',
    (problem) => (
      (problem.rules.budgetCents = 5_400_000),
      (problem.rules.locks = [{ field: 'F3', variety: 'D' }]),
      problem.options
        .filter((option) => option.field === 'F3' && option.variety === 'D')
        .forEach((option) => (option.cashCents = 30_000))
    ),
    ['budget', 'lock/F3/D'],
  ],
  [
    'too little seed of everything',
    (problem) => quotesOf(problem, ['A', 'B', 'C', 'D'], 90),
    ['A', 'B', 'C', 'D'].flatMap((v) => [`available/N ${v}`, `available/S ${v}`]),
  ],
  [
    'a lock on seed that cannot be had',
    (problem) => (quotesOf(problem, ['B'], 40), (problem.rules.locks = [{ field: 'F2', variety: 'B' }])),
    ['available/N B', 'available/S B', 'lock/F2/B'],
  ],
  [
    'one dealer only, who has little',
    (problem) => (
      (problem.rules.mostDealers = 1),
      (problem.rules.locks = [{ field: 'F2', variety: 'B' }]),
      (problem.quotes = problem.quotes.filter((quote) => !(quote.dealer === 'N' && quote.variety === 'B'))),
      (problem.rules.contracts = [{ oilType: 'normal', acres: 50 }]),
      (problem.quotes = problem.quotes.filter((quote) => !(quote.dealer === 'S' && quote.variety === 'D')))
    ),
    ['contract/normal', 'lock/F2/B', 'most-dealers'],
  ],
  [
    'a dealer who delivers too little',
    (problem) => (
      (problem.dealers[0]!.mostPounds = 10_000),
      (problem.quotes = problem.quotes.filter((quote) => quote.dealer === 'N'))
    ),
    ['delivers/N'],
  ],
  [
    'seed that must be used, of a variety ruled out',
    (problem) => (
      (problem.carried = [{ variety: 'C', pounds: 3000, mustUse: true }]),
      (problem.rules.exclusions = [{ variety: 'C' }])
    ),
    ['exclusion//C/', 'must-use/C'],
  ],
  [
    'seed that must be used, more than its share',
    (problem) => (
      (problem.carried = [{ variety: 'C', pounds: 12_000, mustUse: true }]),
      (problem.rules.largestShare = [{ variety: 'C', share: 0.25 }])
    ),
    ['largest-share/C', 'must-use/C'],
  ],
  [
    'whole fields: a share between one field and two under a contract',
    ({ rules }) => (
      (rules.contracts = [{ oilType: 'normal', acres: 60 }]),
      (rules.largestShare = [{ variety: 'D', share: 0.24 }])
    ),
    ['contract/normal', 'largest-share/D'],
  ],
  [
    'whole fields: hours for seven and a half',
    ({ rules }) => (
      (rules.planterHours = [
        { in: 'Early', hours: 39 },
        { in: 'Usual', hours: 41 },
      ]),
      (rules.exclusions = [])
    ),
    ['planter-hours/Early', 'planter-hours/Usual'],
  ],
  [
    'whole packs: seed for one field is a bag short by half',
    (problem) => (
      (problem.rules.locks = [{ field: 'F0', variety: 'A' }]),
      (problem.rules.reserve = 0.005),
      problem.quotes
        .filter((quote) => quote.variety === 'A')
        .forEach((quote, q) => (quote.availablePacks = q === 0 ? 100.4 : 0.4))
    ),
    ['available/N A', 'available/S A', 'lock/F0/A'],
  ],
]

describe('planted conflicts', () => {
  it.each(cases)('%s', { timeout: 300_000 }, async (_, plant, expected) => {
    for (const noise of [false, true]) {
      const given = base()
      if (noise) noiseRules(given)
      plant(given)
      const problem = sortedProblem(given)
      const rules = allRules(problem)
      const conflict = await findConflict(problem, rules, solver, unhurried)
      expect(conflict.rules.map((rule) => rule.id).sort()).toEqual([...expected].sort())
      expect(conflict.isMinimal).toBe(true)
      for (const rule of conflict.rules) {
        expect(rule.says.length).toBeGreaterThan(10)
        expect(rule.remedy.length).toBeGreaterThan(10)
        expect(rule.remedy).not.toMatch(/\b1 (varieties|dealers|packs|acres|pounds|hours)\b/)
      }
    }
  })
})

it('a farm whose contract is 10 acres too much: giving way by that much is enough, and a little less is not', async () => {
  const given = base()
  given.rules.contracts = [{ oilType: 'high oleic', acres: 410 }]
  const problem = sortedProblem(given)
  const conflict = await findConflict(problem, allRules(problem), solver, unhurried)
  expect(conflict.rules[0]).toMatchObject({ unit: 'acres', settles: true })
  const amount = conflict.rules[0]?.amount ?? Number.NaN
  const statusAt = async (acres: number) => {
    const changed = { ...given, rules: { ...given.rules, contracts: [{ oilType: 'high oleic', acres }] } }
    const solved = await solveProblem(changed, { gap: 0, seconds: 20, wholeCents: true }, solver)
    return solved.ok ? solved.value.proof.status : 'failed'
  }
  expect(await statusAt(410 - amount)).toBe('proven')
  expect(await statusAt(410 - amount + 0.05)).toBe('nothing-fits')
})

it('where nothing can be planted at all, no rule of the house is blamed', async () => {
  const problem = sortedProblem({ ...base(), options: [] })
  const conflict = await findConflict(problem, allRules(problem), solver, unhurried)
  expect(conflict).toMatchObject({ rules: [], isMinimal: false })
  expect(conflict.says).toMatch(
    /^No plan exists even without the house rules: a field has nothing that could be planted/,
  )
})

/** Five rules that clash; which of them settle it takes several tests to find out. */
function clash(): PlanProblem {
  const given = base()
  noiseRules(given)
  given.rules.contracts = [
    { oilType: 'high oleic', acres: 300 },
    { oilType: 'normal', acres: 200 },
  ]
  return sortedProblem(given)
}

it('with little work to spend it names the rules, and says that not all was found out, the same each time', async () => {
  const problem = clash()
  const once = async () => {
    const { seconds: _, ...told } = await findConflict(problem, allRules(problem), solver, { ...unhurried, work: 5000 })
    return told
  }
  const told = await once()
  expect(told.rules.length).toBeGreaterThan(0)
  expect(told.isMinimal).toBe(false)
  expect(told.rules.some(({ settles }) => settles === null)).toBe(true)
  expect(told.says).not.toContain('on this machine')
  expect(await once()).toEqual(told)
})

it('says when a clock ended it', async () => {
  const problem = clash()
  const hurried = await findConflict(problem, allRules(problem), solver, { seconds: 0 })
  expect(hurried.isMinimal).toBe(false)
  expect(hurried.says).toMatch(/The time for looking ran out on this machine\.$/)
})

it('on a machine that is a hundred times slower it finds the same', async () => {
  const problem = clash()
  const { seconds: _, ...quick } = await findConflict(problem, allRules(problem), solver, unhurried)
  const slow = new SlowSolver()
  const { seconds: __, ...late } = await findConflict(problem, allRules(problem), slow, unhurried)
  await slow.close()
  expect(quick.isMinimal).toBe(true)
  expect(late).toEqual(quick)
})

/** Every run ends 50 ms late. */
class SlowSolver extends Solver {
  override async run(model: ModelArrays, options: RunOptions): Promise<SolveAnswer> {
    const answer = await super.run(model, options)
    await new Promise((resolve) => setTimeout(resolve, 50))
    return answer
  }
}
