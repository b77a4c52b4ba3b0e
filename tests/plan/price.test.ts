/** What plainly cannot be planned is said before any solver is asked, and rules reach the solver as they are meant. */
import { expect, it } from 'vitest'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import type { Season } from '../../src-shared/season.ts'
import { aSeason } from '../support/a-season.ts'

function problemsOf(season: Season) {
  const priced = priceSeason(season)
  if (priced.ok) throw new Error('It could be priced.')
  return priced.problems
}

function rulesOf(rules: Season['rules']) {
  const priced = priceSeason({ ...aSeason(), rules })
  if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
  return priced.value.problem.rules
}

it.each([
  ['fields', 'Enter or paste the fields first.'],
  ['varieties', 'Enter the varieties that could be planted.'],
  ['windows', 'Enter at least one planting window.'],
  ['quotes', "Enter the dealers' quotes."],
] as const)('a season without %s says so, and what to do', async (what, remedy) => {
  const season = { ...aSeason(), [what]: [] }
  const missing = { code: 'missing', what: `There are no ${what} yet.`, where: { path: what }, remedy }
  expect(problemsOf(season)).toEqual([missing])
  expect(await solvePlan(season, { gap: 0, seconds: 1 })).toEqual({ ok: false, problems: [missing] })
})

const strict: Season['rules'] = [{ rule: 'largest-loss', subject: 'late leaf spot', amount: 0.0001, isOn: true }]

it('a field that nothing may be planted on is named with the reasons', () => {
  const problems = problemsOf({ ...aSeason(), rules: strict })
  expect(problems.find(({ where }) => where?.name === 'Creek')).toMatchObject({
    code: 'nothing-fits',
    what: expect.stringMatching(/^No variety may be planted on Creek\. .*late leaf spot/),
    where: { table: 'field', name: 'Creek' },
    remedy: expect.stringContaining('allow the field to be left out'),
  })
})

it('where fields may be left out, such a field is no problem', () => {
  const rules: Season['rules'] = [...strict, { rule: 'may-rest', amount: 20_000, isOn: true }]
  const priced = priceSeason({ ...aSeason(), rules })
  if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
  // Leaving an acre out costs what the ground could bring less what it brings otherwise: the best ground last.
  for (const { couldCents, otherCents, leaveOutCents } of priced.value.problem.fields) {
    expect(otherCents).toBe(20_000)
    expect(leaveOutCents).toBe((couldCents ?? Number.NaN) - 20_000)
  }
  const own = { ...aSeason(), rules, fields: aSeason().fields.map((field) => ({ ...field, otherCents: 15_000 })) }
  const with15 = priceSeason(own)
  expect(with15.ok && with15.value.problem.fields.every(({ otherCents }) => otherCents === 15_000)).toBe(true)
})

it('rules without their amount bind nothing', () => {
  expect(
    rulesOf([
      { rule: 'largest-share', isOn: true },
      { rule: 'contract', isOn: true },
      { rule: 'contract', subject: 'high oleic', amount: 30, isOn: false },
    ]),
  ).toMatchObject({ largestShare: [{ share: 1 }], contracts: [{ oilType: '', acres: 0 }], riskWeight: 1 })
})

it('a field that rests is not in the plan, nor a lock on it', () => {
  const season = aSeason()
  const [first, ...others] = season.fields
  const locks = [{ field: first!.name, variety: season.varieties[0]!.name }]
  const priced = priceSeason({ ...season, locks, rules: [], fields: [{ ...first!, rests: true }, ...others] })
  if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
  expect(priced.value.problem.fields.map(({ id }) => id)).toEqual(others.map(({ name }) => name))
  expect(priced.value.problem.options.some(({ field }) => field === first!.name)).toBe(false)
  expect(priced.value.problem.rules.locks).toEqual([])
})
