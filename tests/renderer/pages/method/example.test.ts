/** The figures of the page are those that a plan has: by the solver on the same season, and by hand from what is told beside them. */
import { expect, test } from 'vitest'
import { contextOf } from '../../../../src-shared/agronomy/context.ts'
import { buildOptions } from '../../../../src-shared/agronomy/option.ts'
import { starterBook } from '../../../../src-shared/book/starter.ts'
import { ruleKinds } from '../../../../src-shared/rule.ts'
import { readSeason } from '../../../../src-shared/season.ts'
import { solvePlan } from '../../../../src-main/engine/plan/solve-plan.ts'
import { bookKinds, workExample } from '../../../../src-renderer/pages/method/example.ts'
import { exampleMeasures, exampleSeason } from '../../../../src-renderer/pages/method/example-season.ts'
import { kindSays, ruleSays, sections } from '../../../../src-renderer/pages/method/sections.ts'

const worked = workExample()
const value = (id: string) => worked.get(id)?.value ?? Number.NaN

test('the season of the example is one that any file could hold', () => {
  expect(readSeason(structuredClone(exampleSeason), 'example')).toMatchObject({ ok: true })
})

test('a plan of it, solved, has the packs, the order and the cost that the page tells', async () => {
  const solved = await solvePlan(exampleSeason, { gap: 1e-6, seconds: 30 })
  if (!solved.ok || solved.value.plan === null) throw new Error('no plan')
  const { plan, proof } = solved.value
  expect(proof.status).toBe('proven')
  expect(plan.blocks).toMatchObject([{ variety: 'the variety', programme: exampleMeasures }])
  expect(plan.purchases).toMatchObject([{ packs: value('packs'), packPriceCents: value('pack price') }])
  expect(plan.orders[0]?.cents).toBeCloseTo(100 * value('order'), 6)
  // Blocks are told in whole cents.
  expect(Math.abs(plan.totals.costCents - 100 * 100 * value('cost'))).toBeLessThanOrEqual(3)
})

test('losses, vine and give-up are those of the option', () => {
  const { options } = buildOptions(contextOf(exampleSeason))
  const option = options.find(
    (each) => each.variety === 'the variety' && String(each.programme) === String(exampleMeasures),
  )
  if (!option) throw new Error('no such option')
  expect(option.seedPoundsPerAcre).toBe(value('seed pounds'))
  expect(option.losses).toEqual([value('loss/late leaf spot'), value('loss/spotted wilt')])
  expect(option.lossCents).toBeCloseTo(100 * value('loss dollars'), 9)
  expect(option.vineCents).toBeCloseTo(100 * value('vine'), 9)
  expect(option.giveUpCents).toBeCloseTo(100 * value('give-up'), 9)
  expect(option.cashCents).toBeCloseTo(100 * value('cash'), 9)
})

test('by hand', () => {
  expect(value('row feet')).toBe(14_520)
  expect(value('seed pounds')).toBe(132)
  // 100 acres × 132 lb × 1.03 / 50 lb = 271.92; 272 × $47.25 − 13,600 lb × 1.5 cents + $150.
  expect(value('packs')).toBe(272)
  expect(value('order')).toBeCloseTo(12_852 - 204 + 150, 9)
  // 4.386 plants a foot at 0.78 × 0.86.
  expect(value('lot drop')).toBeCloseTo((6 * 0.85) / 0.78, 9)
  // 30,000 lb less 4 % and 3 % and 1 % of water above 7 %.
  expect(value('net weight')).toBeCloseTo(27_600, 6)
  expect(value('loan rate')).toBeCloseTo(74 * 4.8, 9)
  expect(value('walk')).toBe(20_000)
  expect(value('lesson')).toBeCloseTo(1.05, 9)
})

test('no section calls for a figure that is not there, and none is left over that a formula has', () => {
  const called = sections.flatMap(({ formulas = [] }) => formulas.flatMap((formula) => formula.worked))
  expect(called.filter((id) => !worked.has(id))).toEqual([])
  expect(new Set(called).size).toBe(called.length)
  for (const { formula } of worked.values()) expect(formula).not.toMatch(/NaN|undefined|Infinity/)
})

test('every rule stands in one of the three lists, as its sentence has it', () => {
  const listed = sections.flatMap(({ rules = [] }) => rules.flatMap(({ kinds }) => kinds))
  expect(listed.toSorted()).toEqual(Object.keys(ruleKinds).toSorted())
  expect(ruleSays('contract')).toBe('Plant at least … of an oil type.')
})

test('the rows of the book are counted by how they are known', () => {
  const kinds = bookKinds()
  expect(kinds.reduce((sum, { rows }) => sum + rows, 0)).toBe(starterBook.length)
  expect(Object.keys(kindSays)).toEqual(kinds.map(({ kind }) => kind))
})
