/** Drafts and the work beside the plan, as calls on a real file: kept, solved, compared, adopted, stopped, taken back. */
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { smallSeason } from '../support/open-file.ts'

function smallFarm(): TestEngine {
  const test = startTestEngine()
  onTestFinished(() => test.close())
  const made = createFarm(join(test.engine.home, 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  test.engine.farm = made.value
  return test
}

const quick = { gap: 0, seconds: 20 }
const none = { rulesOff: [], whatIfs: [] }

test('a draft is kept with its rules off by row, renamed with them, copied, removed and taken back', async () => {
  const { must, call, engine } = smallFarm()
  const rules = smallSeason().rules.map(({ rule, subject }) => (subject === undefined ? { rule } : { rule, subject }))
  expect(rules.length).toBeGreaterThan(1)
  const settings = {
    riskWeight: 2,
    rulesOff: rules,
    whatIfs: [{ kind: 'price' as const, variety: 'Bison', percent: 20 }],
  }
  const id = await must('draft.save', { name: 'Cautious', settings })
  const [draft] = await must('draft.list', {})
  expect(draft).toMatchObject({
    id,
    name: 'Cautious',
    settings: { riskWeight: 2, whatIfs: settings.whatIfs },
    plan: null,
  })
  const key = (each: { rule: string; subject?: string }) => JSON.stringify([each.rule, each.subject])
  expect(draft?.settings.rulesOff.map(key).sort()).toEqual(rules.map(key).sort())
  expect(draft?.says).toContain('Bison is 20 % dearer.')
  expect(await call('draft.save', { name: 'cautious', settings: none })).toMatchObject({
    problems: [{ code: 'repeated-name' }],
  })
  const copy = await must('draft.duplicate', { id, name: 'Copy' })
  expect((await must('draft.list', {})).find((each) => each.id === copy)?.settings).toEqual(draft?.settings)
  await must('draft.remove', { id: copy })
  expect(await must('draft.list', {})).toHaveLength(1)
  await must('undo.back', {})
  expect((await must('draft.list', {})).find((each) => each.id === copy)?.settings).toEqual(draft?.settings)
  expect(engine.farm?.connection.pragma('foreign_key_check')).toEqual([])
  for (const [name, input] of [
    ['draft.save', { id: 99, name: 'X', settings: none }],
    ['draft.remove', { id: 99 }],
    ['draft.duplicate', { id: 99, name: 'X' }],
    ['draft.adopt', { id: 99 }],
    ['draft.solve', { id: 99 }],
    ['plan.compare', { a: 98, b: 99 }],
    ['draft.save', { name: 'Y', settings: { ...none, rulesOff: [{ rule: 'budget', subject: 'Nobody' }] } }],
  ] as const) {
    expect(await call(name, input as never), name).toMatchObject({ ok: false, problems: [{ code: 'unknown-name' }] })
  }
})

test('a draft is solved beside the plan in hand, compared with it, and adopted; the season stays', async () => {
  const { must, call, bugs } = smallFarm()
  const before = await must('plan.solve', quick)
  const dearest = before.plan?.purchases.toSorted((a, b) => b.cents - a.cents)[0]?.variety as string
  const id = await must('draft.save', {
    name: 'Without',
    settings: { ...none, whatIfs: [{ kind: 'price', variety: dearest, percent: 300 }] },
  })
  expect(await call('draft.adopt', { id })).toMatchObject({ problems: [{ code: 'missing' }] })
  const planId = await must('draft.solve', { id, ...quick })
  // The plan in hand is still the one before.
  expect((await must('plan.latest', {}))?.id).toBe(before.id)
  expect((await must('draft.list', {}))[0]?.plan).toMatchObject({
    id: planId,
    totals: { acres: expect.closeTo(189.4, 3) },
  })
  const same = await must('plan.compare', { a: before.id, b: before.id })
  expect([...same.fields, ...same.quotes, ...same.dealers, ...same.totals, ...same.rules]).toEqual([])
  const other = await must('plan.compare', { a: before.id, b: planId })
  expect(other.rules.some((change) => change.includes(dearest))).toBe(true)
  expect(other.totals.map((total) => total.key)).toContain('costCents')

  await must('draft.adopt', { id })
  const after = await must('plan.latest', {})
  expect(after?.id).not.toBe(before.id)
  expect(after?.plan?.totals).toEqual((await must('draft.list', {}))[0]?.plan?.totals)
  // It was made at prices that are not the season's, and says so.
  expect(after?.isStale).toBe(true)
  expect(after?.before).toEqual(before.plan?.totals)
  await must('draft.remove', { id })
  expect((await must('plan.latest', {}))?.id).toBe(after?.id)
  expect(bugs).toEqual([])
})

test('curve, hard years and reasons of the plan in hand, told on the way and kept', { timeout: 300_000 }, async () => {
  const { must, call, news, bugs } = smallFarm()
  expect(await must('plan.reasons', {})).toBeNull()
  expect(await call('plan.hardYear', {})).toMatchObject({ problems: [{ code: 'missing' }] })
  const plan = await must('plan.solve', quick)

  const quickly = await must('plan.reasons', {})
  expect(quickly?.isRefined).toBe(false)
  expect(quickly?.choices.every((choice) => choice.cost.kind === 'at-least')).toBe(true)
  const refined = await must('plan.refine', { ...quick, choicesPerField: 1 })
  expect(refined.isRefined).toBe(true)
  expect(refined.ruleCosts.length).toBeGreaterThan(0)
  expect(await must('plan.reasons', {})).toEqual(refined)
  expect(news.filter((item) => item.kind === 'work' && item.found.of === 'reasons').length).toBeGreaterThan(2)

  const { years, regret } = await must('plan.hardYear', quick)
  expect(years.map((year) => year.name)).toContain('hard')
  expect(years[0]?.cashCents).toBe(plan.plan?.totals.cashCents)
  expect(regret.says).toMatch(/\.$/)

  expect(await call('plan.adoptPoint', { point: 0 })).toMatchObject({ problems: [{ code: 'missing' }] })
  const curve = await must('plan.curve', { ...quick, between: 3 })
  expect(curve.points.length).toBeGreaterThan(1)
  expect(news.filter((item) => item.kind === 'work' && item.found.of === 'curve').length).toBeGreaterThan(1)
  await must('plan.adoptPoint', { point: 0 })
  const adopted = await must('plan.latest', {})
  expect(adopted?.plan).toEqual(curve.points[0]?.plan)
  expect(adopted?.isStale).toBe(false)
  expect(bugs).toEqual([])
})

test('work beside the plan is one at a time, and stops when asked', { timeout: 300_000 }, async () => {
  const { must, call } = smallFarm()
  await must('plan.solve', quick)
  expect(await must('plan.stopWork', {})).toBe(false)
  const running = must('plan.refine', quick)
  expect(await call('plan.curve', {})).toMatchObject({ problems: [{ code: 'busy' }] })
  expect(await must('plan.stopWork', {})).toBe(true)
  expect((await running).isRefined).toBe(false)
  expect(await must('plan.stopWork', {})).toBe(false)
})

test(
  'a variety is kept off a field and let back, each one step that can be taken back',
  { timeout: 300_000 },
  async () => {
    const { must, call, engine } = smallFarm()
    const plan = await must('plan.solve', quick)
    const block = plan.plan?.blocks.find((each) => each.field === 'Long Field')
    const variety = block?.variety as string
    const field = async () => (await must('field.list', {})).find((each) => each.name === 'Long Field')
    const fieldId = (await field())?.id as number
    const before = (await field())?.keptOff
    await must('exclusion.set', { fieldId, variety, isOut: true })
    await must('exclusion.set', { fieldId, variety, isOut: true })
    expect((await field())?.keptOff).toEqual([...(before ?? []), variety].sort())
    expect(await must('plan.latest', {})).toMatchObject({ isStale: true, changed: '1 variety kept off a field' })
    const other = await must('plan.solve', quick)
    expect(other.plan?.blocks.filter((each) => each.field === 'Long Field').map((each) => each.variety)).not.toContain(
      variety,
    )
    expect(other.beforeId).toBe(plan.id)
    await must('exclusion.set', { fieldId, variety, isOut: false })
    expect((await field())?.keptOff).toEqual(before)
    await must('undo.back', {})
    expect((await field())?.keptOff).toContain(variety)
    // Of the two times it was kept off, the second changed rows as the first did.
    await must('undo.back', {})
    await must('undo.back', {})
    expect((await field())?.keptOff).toEqual(before)
    expect(engine.farm?.connection.pragma('foreign_key_check')).toEqual([])
    for (const input of [
      { fieldId: 99, variety, isOut: true },
      { fieldId, variety: 'Nothing', isOut: true },
    ]) {
      expect(await call('exclusion.set', input)).toMatchObject({ problems: [{ code: 'unknown-name' }] })
    }
  },
)

test(
  'one goes back to the plan before, reasons and all; news says whose plan it is about',
  { timeout: 300_000 },
  async () => {
    const { must, call, news } = smallFarm()
    const first = await must('plan.solve', quick)
    const field = 'Long Field'
    const bounded = (await must('plan.reasons', {}))?.choices.filter((each) => each.field === field) ?? []
    expect(bounded.length).toBeGreaterThan(0)
    const own = await must('plan.refine', { ...quick, field })
    expect(own.isRefined).toBe(false)
    const kinds = (reasons: typeof own, here: boolean) =>
      reasons.choices.filter((each) => (each.field === field) === here).map((each) => each.cost.kind)
    expect(kinds(own, true)).toHaveLength(bounded.length)
    expect(kinds(own, true)).not.toContain('at-least')
    expect(kinds(own, false)).toContain('at-least')
    const steps = news.filter((item) => item.kind === 'work').map(({ step, steps }) => [step, steps])
    expect(steps).toEqual(bounded.map((_, at) => [at + 1, bounded.length]))

    const rules = await must('plan.rules', {})
    const whose = () => new Set(news.flatMap((item) => (item.kind === 'progress' ? [item.draft] : [])))
    expect(whose()).toEqual(new Set([null]))
    news.length = 0
    const costs = await must('plan.refine', { ...quick, of: 'rules' })
    expect(costs.ruleCosts.map(({ rule }) => rule).sort()).toEqual(rules.map(({ rule }) => rule).sort())
    expect(costs.choices).toEqual(own.choices)
    const far = news.flatMap((item) => (item.kind === 'work' ? [[item.step, item.steps]] : []))
    expect(far.at(-1)).toEqual([far.length, far.length])
    const id = await must('draft.save', {
      name: 'Free',
      settings: { ...none, whatIfs: rules.flatMap(({ without }) => (without?.kind === 'unlock' ? [without] : [])) },
    })
    await must('draft.solve', { id, ...quick })
    expect(whose()).toEqual(new Set([id]))
    expect((await must('draft.list', {}))[0]).toMatchObject({ id, changed: '' })
    await must('draft.save', { id, name: 'Free', settings: { ...none, whatIfs: [{ kind: 'price', percent: 10 }] } })
    expect((await must('draft.list', {}))[0]?.changed).toBe('4 prices, 1 lock')
    await must('draft.adopt', { id })
    const second = await must('plan.latest', {})
    expect(second).toMatchObject({ beforeId: first.id, before: first.plan?.totals })
    await must('plan.adopt', { id: first.id })
    expect(await must('plan.latest', {})).toMatchObject({
      id: first.id,
      plan: first.plan,
      isStale: false,
      beforeId: null,
      afterId: second?.id,
    })
    expect(await must('plan.reasons', {})).toEqual(costs)
    expect(await call('plan.adopt', { id: 999 })).toMatchObject({ problems: [{ code: 'unknown-name' }] })
  },
)

test('a clash says what would settle it, and a draft with that has a plan', { timeout: 300_000 }, async () => {
  const { must } = smallFarm()
  const hill = (await must('field.list', {})).find((each) => each.name === 'Hill')
  await must('exclusion.set', { fieldId: hill?.id as number, variety: 'Amber', isOut: true })
  const clash = await must('plan.solve', quick)
  expect(clash.plan).toBeNull()
  expect(await must('plan.rules', {})).toEqual([])
  const stuck = await must('draft.save', {
    name: 'Stuck',
    settings: { ...none, whatIfs: [{ kind: 'price', percent: 5 }] },
  })
  await must('draft.solve', { id: stuck, ...quick })
  expect((await must('draft.list', {}))[0]?.clash?.settling).toEqual(clash.settling)
  expect(clash.settling.map(({ whatIf }) => whatIf.kind).sort()).toEqual(['allow', 'unlock'])
  for (const { whatIf, says } of clash.settling) {
    const id = await must('draft.save', { name: says, settings: { ...none, whatIfs: [whatIf] } })
    await must('draft.solve', { id, ...quick })
    expect((await must('draft.list', {})).find((each) => each.id === id)?.plan?.totals?.acres).toBeCloseTo(189.4, 3)
  }
})
