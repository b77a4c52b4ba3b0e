/** An unknown crop is asked about once, and either answer settles it. */
import { cleanup, fireEvent, render, screen, waitFor } from '@testing-library/svelte'
import { afterEach, expect, test } from 'vitest'
import type { FieldRow } from '../../../../src-shared/field.ts'
import { useTransport } from '../../../../src-renderer/engine/call.ts'
import CropQuestions from '../../../../src-renderer/pages/fields/CropQuestions.svelte'
import { demoFarm } from '../../../shared/demo-farm.ts'
import { startTestEngine } from '../../../support/engine.ts'

afterEach(cleanup)

async function farmWith(crop: string) {
  const host = startTestEngine()
  const season = demoFarm()
  await host.must('farm.start', { name: 'Test', season: season.season })
  const { fields } = season
  const added = fields.slice(0, 2).map(({ name, acres, water, yieldGoalLb }, at) => ({
    key: -1 - at,
    values: { name, acres, water, yieldGoalLb, history: [{ season: season.season - 2, crop }] },
  }))
  await host.must('sheet.change', { sheet: 'field', says: 'Add', cells: [], added, removed: [] })
  useTransport(host)
  const list = (): Promise<FieldRow[]> => host.must('field.list', {})
  const view = render(CropQuestions, { fields: await list() })
  return { ...host, list, rerender: async () => view.rerender({ fields: await list() }) }
}

test('“is peanut” writes peanut into every history that names the word, as one undo step', async () => {
  const { list, rerender, must, close } = await farmWith('Pxt')
  expect((await list()).map(({ yearsOut }) => yearsOut)).toEqual([2, 2])
  await fireEvent.click(await screen.findByRole('button', { name: 'Pxt is peanut' }))
  await waitFor(async () => expect((await list()).map(({ yearsOut }) => yearsOut)).toEqual([1, 1]))
  await rerender()
  expect(screen.queryByText(/Pxt/)).toBeNull()
  await must('undo.back', {})
  expect((await list()).map(({ history }) => history[0]?.crop)).toEqual(['Pxt', 'Pxt'])
  await close()
})

test('“is another crop” is remembered, and the word is not asked about again', async () => {
  const { list, close } = await farmWith('Lease')
  await fireEvent.click(await screen.findByRole('button', { name: 'Lease is another crop' }))
  await waitFor(() => expect(screen.queryByText(/Lease/)).toBeNull())
  expect((await list()).map(({ history }) => history[0]?.crop)).toEqual(['Lease', 'Lease'])
  await close()
})
