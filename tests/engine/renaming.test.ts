/** A corrected name is not another farm: what was stored by name, a plan above all, goes on meaning the same rows. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { SheetName } from '../../src-shared/sheet/sheet.ts'
import { gather } from '../../src-main/engine/plan/gather.ts'
import { planInHand } from '../../src-main/engine/plans.ts'
import type { TestEngine } from '../support/engine.ts'
import { farmOf, linesOf, orderedFarm, quick } from '../support/order-farm.ts'
import { smallSeason } from '../support/open-file.ts'

const lists = {
  field: 'field.list',
  variety: 'variety.list',
  dealer: 'dealer.list',
  window: 'window.list',
  measure: 'measure.list',
} as const
type Renamed = keyof typeof lists

async function rows(host: TestEngine, sheet: Renamed) {
  return (await host.must(lists[sheet], {})) as { id: number; name: string }[]
}

async function rename(host: TestEngine, sheet: Renamed, from: string, to: string) {
  const row = (await rows(host, sheet)).find(({ name }) => name === from)
  if (row === undefined) throw new Error(`There is no ${sheet} ${from}.`)
  const cells = [{ id: row.id, path: 'name', value: to }]
  const outcome = await host.must('sheet.change', { sheet: sheet as SheetName, says: 'Rename', cells })
  expect(outcome.refused).toEqual([])
}

/** The season that the plan in hand was made from is the one that is gathered now, name by name and in the same order. */
async function isOfToday(host: TestEngine) {
  const { db, seasonId } = host.engine.farm!
  const now = await gather(db, seasonId)
  const fields = now.fields.map(({ boundary: _, ...field }) => field)
  expect((await planInHand(db, seasonId))?.input).toEqual({ ...now, fields })
}

test('renames change no plan: nothing is out of date, every block, lock, reason and order follows', async () => {
  const host = await orderedFarm(smallSeason())
  const { must } = host
  const before = await must('plan.latest', {})
  const choices = (await must('plan.refine', { of: 'rules' })).choices
  const ordered = linesOf(await must('orders.list', {}))
  const field = before!.plan!.blocks[0]!.field
  const variety = before!.plan!.blocks[0]!.variety
  const dealer = before!.plan!.purchases[0]!.dealer
  await rename(host, 'field', field, 'Z renamed field')
  await rename(host, 'variety', variety, 'A renamed variety')
  await rename(host, 'dealer', dealer, 'Renamed Supply')
  await rename(host, 'window', before!.plan!.blocks[0]!.window, 'Renamed window')
  await rename(host, 'measure', 'In-furrow', 'Renamed measure')
  const after = await must('plan.latest', {})
  expect(after).toMatchObject({ isStale: false, changes: [], changed: '' })
  expect(after!.plan!.totals).toEqual(before!.plan!.totals)
  expect(after!.plan!.blocks[0]).toMatchObject({ field: 'Z renamed field', variety: 'A renamed variety' })
  const text = JSON.stringify([after, await must('plan.reasons', {})])
  for (const old of [field, variety, dealer]) expect(text).not.toContain(`"${old}"`)
  expect((await must('plan.reasons', {}))?.choices).toHaveLength(choices.length)
  await isOfToday(host)
  const now = await must('orders.list', {})
  expect(now.differences).toEqual([])
  expect(linesOf(now).map(({ packs }) => packs)).toEqual(ordered.map(({ packs }) => packs))
  // Reasons found out under the new names are kept, and follow the next rename.
  await must('plan.refine', { of: 'rules' })
  await rename(host, 'field', 'Z renamed field', field)
  const reasons = await must('plan.reasons', {})
  expect(JSON.stringify(reasons)).not.toContain('Z renamed field')
  expect(reasons!.choices.some((choice) => choice.field === field)).toBe(true)
  for (let n = 0; n < 6; n += 1) await must('undo.back', {})
  expect(await must('plan.latest', {})).toEqual(before)
})

test('any sequence of renames, two names changed for one another among them, leaves the plan as it is', async () => {
  const host = farmOf(smallSeason())
  const solved = await host.must('plan.solve', quick)
  const sheets = Object.keys(lists) as Renamed[]
  // Names that are parts of one another, that sort otherwise, and words of the trade.
  const names = ['A', 'Zz 2', 'Zz', 'Creek', 'Creek Bottom', 'dryland', 'B (east)', '$1 \\d+', 'lock']
  const step = fc.record({ sheet: fc.constantFrom(...sheets), row: fc.nat(5), to: fc.constantFrom(...names) })
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 6 }), fc.boolean(), async (steps, isSwapped) => {
      for (const { sheet, row, to } of steps) {
        const all = await rows(host, sheet)
        const from = all[row % all.length]!.name
        if (all.every(({ name }) => name.toLowerCase() !== to.toLowerCase())) await rename(host, sheet, from, to)
      }
      if (isSwapped) {
        const [one, other] = (await rows(host, 'field')).map(({ name }) => name) as [string, string]
        await rename(host, 'field', one, 'for a moment')
        await rename(host, 'field', other, one)
        await rename(host, 'field', 'for a moment', other)
      }
      await isOfToday(host)
      const latest = await host.must('plan.latest', {})
      expect(latest).toMatchObject({ isStale: false, changes: [] })
      expect(latest!.plan!.totals).toEqual(solved.plan!.totals)
      const known = new Set((await rows(host, 'field')).map(({ name }) => name))
      for (const { field } of latest!.plan!.blocks) expect(known).toContain(field)
    }),
    { numRuns: 25 },
  )
})

test('a name that went over to another field is not that of the field that is gone', async () => {
  const host = farmOf(smallSeason())
  const solved = await host.must('plan.solve', quick)
  const [one, other] = [...new Set(solved.plan!.blocks.map(({ field }) => field))] as [string, string]
  const { id } = (await rows(host, 'field')).find(({ name }) => name === one)!
  await host.must('sheet.change', { sheet: 'field', says: 'Delete a field', removed: [id] })
  await rename(host, 'field', other, one)
  const latest = await host.must('plan.latest', {})
  const acresOf = (plan: typeof solved.plan, name: string) =>
    plan!.blocks.reduce((sum, { field, acres }) => (field === name ? sum + acres : sum), 0)
  expect(acresOf(latest!.plan, one)).toBe(acresOf(solved.plan, other))
  expect(acresOf(latest!.plan, `${one} (deleted)`)).toBe(acresOf(solved.plan, one))
  expect(latest!.changes).toContain(`Field ${one} (deleted) is gone.`)
})

test('what a draft changes is changed under its new name', async () => {
  const host = farmOf(smallSeason())
  const whatIfs = [
    { kind: 'price' as const, variety: 'Bison', percent: 20 },
    { kind: 'unlock' as const, field: 'Creek Bottom' },
  ]
  const id = await host.must('draft.save', { name: 'Dear', settings: { rulesOff: [], whatIfs } })
  await host.must('draft.solve', { id, ...quick })
  await rename(host, 'variety', 'Bison', 'Bisson')
  await rename(host, 'field', 'Creek Bottom', 'Creek bottom land')
  const [draft] = await host.must('draft.list', {})
  expect(draft?.says).toEqual(['Bisson is 20 % dearer.', 'Creek bottom land is not kept for anything.'])
  expect(draft?.changed).toBe('')
  await host.must('draft.solve', { id, ...quick })
  await host.must('draft.adopt', { id })
})
