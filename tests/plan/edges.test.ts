/** Problems at the edges of what readers accept: a plan that is found, or a refusal that names what is wrong. */
import { afterAll, describe, expect, it } from 'vitest'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { readPlanProblem } from '../../src-shared/plan-problem.ts'

const solver = new Solver()
afterAll(() => solver.close())

interface Given {
  fields?: object[]
  varieties?: string[]
  options?: object[]
  dealers?: object[]
  quotes?: object[]
  carried?: object[]
  rules?: object
}

/** One field of 10 acres, A and B at 100 lb an acre, bags of 50 lb at $50, unless a test says otherwise. */
function problemOf({ varieties = ['A', 'B'], ...given }: Given) {
  const fields = given.fields ?? [{ id: 'F', acres: 10 }]
  const options = fields.flatMap((field) =>
    varieties.map((variety) => ({ field: (field as { id: string }).id, variety, cashCents: 1000, poundsPerAcre: 100 })),
  )
  const quotes = varieties.map((variety) => ({
    id: `N ${variety}`,
    dealer: 'N',
    variety,
    packPounds: 50,
    packPriceCents: 5000,
  }))
  return readPlanProblem(
    {
      format: 'standwell-problem',
      version: 1,
      fields,
      varieties: varieties.map((id) => ({ id })),
      options,
      dealers: [{ id: 'N' }],
      quotes,
      ...given,
    },
    'edge',
  )
}

async function solve(given: Given, gap = 0) {
  const problem = problemOf(given)
  if (!problem.ok) throw new Error(JSON.stringify(problem.problems))
  const solved = await solveProblem(problem.value, { gap, seconds: 20, wholeCents: true, explain: true }, solver)
  if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
  return solved.value
}

const quote = (id: string, variety: string, change: object = {}) => ({
  id,
  dealer: 'N',
  variety,
  packPounds: 50,
  packPriceCents: 5000,
  ...change,
})

describe('split fields without a smallest block', () => {
  const fields = [{ id: 'F', acres: 10, split: { leastBlockAcres: 0, mostVarieties: 2 } }]
  it('at least two varieties are really planted, not on paper only', async () => {
    const { plan } = await solve({ fields, rules: { fewestVarieties: 2 } })
    const acres = plan!.blocks.map((block) => block.acres)
    expect(acres).toHaveLength(2)
    expect(Math.min(...acres)).toBeGreaterThan(0.09)
  })
  it('a field split in any shares can hold two varieties', async () => {
    const { plan } = await solve({ fields: [{ id: 'F', acres: 10, split: {} }], rules: { fewestVarieties: 2 } })
    expect(new Set(plan?.blocks.map(({ variety }) => variety))).toEqual(new Set(['A', 'B']))
  })
  it('a variety can be asked for on a field split in any shares', async () => {
    const planted = [{ field: 'F', variety: 'B' }]
    const quotes = [quote('N A', 'A'), quote('N B', 'B', { packPriceCents: 9000, availablePacks: 4 })]
    const { plan } = await solve({ fields: [{ id: 'F', acres: 10, split: {} }], quotes, rules: { planted } })
    expect(plan?.blocks.map(({ variety }) => variety).sort()).toEqual(['A', 'B'])
  })
})

describe('seed on order', () => {
  const two = [
    { id: 'M', dealer: 'M', variety: 'A', packPounds: 50, packPriceCents: 0, availablePacks: 20, orderedPacks: 20 },
    quote('N A', 'A', { packPriceCents: 100 }),
    quote('M A', 'A', { dealer: 'M' }),
  ]
  it('counts its dealer: no further dealer than the house allows is ordered from', async () => {
    const fields = [{ id: 'F', acres: 20 }]
    const dealers = [{ id: 'N' }, { id: 'M' }]
    const { plan } = await solve({ fields, varieties: ['A'], dealers, quotes: two, rules: { mostDealers: 1 } })
    expect(plan!.orders.map(({ dealer }) => dealer)).toEqual(['M'])
    // 20 packs on order and 20 more, dearer than the other dealer's.
    expect(plan!.totals.seedCents).toBe(20 * 5000)
  })
  it('from more dealers than allowed is a fact: no further one is added, and there is a plan', async () => {
    const quotes = [
      ...two,
      { ...two[0], id: 'N on order', dealer: 'N' },
      quote('O A', 'A', { dealer: 'O', packPriceCents: 1 }),
    ]
    const dealers = [{ id: 'N' }, { id: 'M' }, { id: 'O' }]
    const fields = [{ id: 'F', acres: 40 }]
    const { plan } = await solve({ fields, varieties: ['A'], dealers, quotes, rules: { mostDealers: 1 } })
    expect(plan!.orders.map(({ dealer }) => dealer).sort()).toEqual(['M', 'N'])
  })
})

it('seed that must be used keeps the option that uses it', async () => {
  const options = [
    { field: 'F', variety: 'A', programme: ['thin'], cashCents: 1000, poundsPerAcre: 80 },
    { field: 'F', variety: 'A', programme: ['thick'], cashCents: 1000, poundsPerAcre: 120 },
  ]
  const carried = [{ variety: 'A', pounds: 1200, mustUse: true }]
  const { plan } = await solve({ varieties: ['A'], options, carried })
  expect(plan?.blocks).toMatchObject([{ programme: ['thick'] }])
})

describe('price tables', () => {
  it('a tier that costs more than an earlier one is paid at its own price', async () => {
    // $50 a pack, $40 from 5, $60 from 15: twenty packs cost $1,200.
    const breaks = [
      { fromPacks: 5, packPriceCents: 4000 },
      { fromPacks: 15, packPriceCents: 6000 },
    ]
    const quotes = [quote('N A', 'A', { breaks })]
    const { plan, proof } = await solve({ varieties: ['A'], quotes })
    expect(plan!.totals.seedCents).toBe(20 * 6000)
    expect(proof.status).toBe('proven')
  })
  it('a break from a fraction of a pack begins at the next whole one', async () => {
    const quotes = [quote('N A', 'A', { breaks: [{ fromPacks: 19.5, packPriceCents: 9000 }] })]
    const fields = [{ id: 'F', acres: 9.5 }]
    // Nineteen packs are below the break, which costs more.
    expect((await solve({ varieties: ['A'], quotes, fields })).plan!.totals.seedCents).toBe(19 * 5000)
  })
  it.each([
    [
      'the same packs twice',
      {
        quotes: [
          quote('N A', 'A', {
            breaks: [
              { fromPacks: 5, packPriceCents: 1 },
              { fromPacks: 5, packPriceCents: 2 },
            ],
          }),
        ],
      },
      /two breaks from 5/,
    ],
    [
      'the same pounds twice',
      {
        dealers: [
          {
            id: 'N',
            breaks: [
              { fromPounds: 50, offCentsPerPound: 1 },
              { fromPounds: 50, offCentsPerPound: 2 },
            ],
          },
        ],
      },
      /two breaks from 50/,
    ],
    [
      'less off for more pounds',
      {
        dealers: [
          {
            id: 'N',
            breaks: [
              { fromPounds: 50, offCentsPerPound: 3 },
              { fromPounds: 90, offCentsPerPound: 2 },
            ],
          },
        ],
      },
      /less off from 90/,
    ],
    [
      'more off than seed costs',
      { dealers: [{ id: 'N', breaks: [{ fromPounds: 50, offCentsPerPound: 200 }] }] },
      /more off than/,
    ],
  ])('%s is refused by name', (_name, given, says) => {
    const read = problemOf({ varieties: ['A'], quotes: [quote('N A', 'A')], ...given })
    expect(read.ok ? '' : read.problems.map(({ what }) => what).join()).toMatch(says)
  })
})

it('a pack heavier than all the seed that is needed is one pack', async () => {
  const quotes = [quote('N A', 'A', { packPounds: 1e9, packPriceCents: 700 })]
  const { plan } = await solve({ varieties: ['A'], quotes })
  expect(plan?.purchases).toMatchObject([{ packs: 1, cents: 700 }])
})

it('the same lock twice is one lock, named once', async () => {
  const rules = {
    locks: [
      { field: 'F', variety: 'A' },
      { field: 'F', variety: 'A' },
    ],
    exclusions: [{ field: 'F', variety: 'A' }],
  }
  const { proof } = await solve({ rules })
  expect(proof.conflict?.rules.map(({ id }) => id).sort()).toEqual(['exclusion/F/A/', 'lock/F/A'])
  expect(proof.conflict?.isMinimal).toBe(true)
})

it('options alike but for their hours are told apart', async () => {
  const hours = (variety: string, planterHours: number, cashCents: number) => ({
    field: 'F',
    variety,
    window: 'Usual',
    cashCents,
    poundsPerAcre: 100,
    planterHours,
  })
  const options = [hours('A', 3, 1000), hours('A', 1, 1000.4)]
  const { plan } = await solve({ varieties: ['A'], options, rules: { planterHours: [{ in: 'Usual', hours: 12 }] } })
  expect(plan?.blocks).toHaveLength(1)
})

it('with gap 0 the plan is proven least cost, not within a hair of it', async () => {
  const fields = Array.from({ length: 9 }, (_, f) => ({ id: `F${f}`, acres: 7.3 + f * 1.7 }))
  const options = fields.flatMap(({ id }, f) =>
    ['A', 'B'].map((variety, v) => ({
      field: id,
      variety,
      cashCents: 1033.37 + f * 17.113 + v * 3.331,
      lossCents: 77.777 * ((f + v) % 3),
      poundsPerAcre: 101.3 + v * 7,
    })),
  )
  const { proof } = await solve({ fields, options })
  expect(proof).toMatchObject({ status: 'proven', says: 'Proven least cost.' })
})
