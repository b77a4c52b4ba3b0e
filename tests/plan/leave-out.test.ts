/** Ground is left out where it makes least: its margin, less what it brings otherwise. It used to be the best ground. */
import { expect, it } from 'vitest'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import type { Season } from '../../src-shared/season.ts'
import { demoFarm } from '../shared/demo-farm.ts'

const pick = (name: string, changes: Partial<Season['fields'][number]> = {}) => {
  const field = demoFarm().fields.find((each) => each.name === name)
  if (field === undefined) throw new Error(`no field ${name}`)
  return { ...field, acres: 80, windows: [], ...changes }
}

/** Two fields of 80 acres, and planter hours for one of them: 7.1 acres an hour for 11 hours. */
function season(fields: Season['fields'], rules: Season['rules'] = []): Season {
  const farm = demoFarm()
  return {
    ...farm,
    fields,
    windows: [{ name: 'Usual', kind: 'usual', opens: '05-03', closes: '05-09' }],
    weeks: [{ starts: '05-03', plantingDays: 1.3 }],
    rules: [{ rule: 'may-rest', amount: 0, isOn: true }, { rule: 'planter-hours', isOn: true }, ...rules],
  }
}

async function leftOut(of: Season): Promise<string[]> {
  const solved = await solvePlan(of, { gap: 0, seconds: 60 })
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  return solved.value.plan.leftOut.map(({ field }) => field)
}

it('leaves the dryland field out and plants the irrigated one', { timeout: 300_000 }, async () => {
  expect(await leftOut(season([pick('Creek Bottom'), pick('Gin Field')]))).toEqual(['Gin Field'])
})

it('counts what the ground brings otherwise', { timeout: 300_000 }, async () => {
  const rented = pick('Creek Bottom', { otherCents: 120_000 })
  expect(await leftOut(season([rented, pick('Gin Field')]))).toEqual(['Creek Bottom'])
})

it('leaves out ground that loses money, with hours to spare', { timeout: 300_000 }, async () => {
  const poor = pick('Gin Field', { yieldGoalLb: 1500 })
  const spare = { ...season([pick('Creek Bottom'), poor]) }
  const weeks = [{ starts: '05-03', plantingDays: 7 }]
  expect(await leftOut({ ...spare, weeks })).toEqual(['Gin Field'])
})
