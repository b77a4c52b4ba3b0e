/** The line at the top: what it says of a season that is only read, and when a change of it was refused after all. */
import { cleanup, render, screen } from '@testing-library/svelte'
import { afterEach, expect, test } from 'vitest'
import FileLine from '../../../src-renderer/frame/FileLine.svelte'
import { saving } from '../../../src-renderer/engine/saving.svelte.ts'
import { useTransport } from '../../../src-renderer/engine/call.ts'
import type { FarmSummary } from '../../../src-shared/farm.ts'

afterEach(cleanup)

const farm: FarmSummary = {
  name: 'Two Creeks',
  fileName: 'Two Creeks.farm',
  season: 2027,
  isDemo: false,
  isReadOnly: true,
  copyOf: null,
  refusal: null,
  seasons: [
    { id: 1, year: 2027, isOpen: false, isAtHand: true },
    { id: 2, year: 2028, isOpen: true, isAtHand: false },
  ],
  county: null,
  fields: 14,
  acres: 1116,
}

const show = (refusals: number) =>
  render(FileLine, {
    farm,
    undo: undefined,
    isSaving: false,
    savedAt: null,
    isCutOff: false,
    back: () => undefined,
    forward: () => undefined,
    goTo: () => undefined,
    close: () => undefined,
    current: 'plan',
    refusals,
    toPage: () => undefined,
  })

test('a farm whose disk is full says so, and leads to no other season', () => {
  farm.refusal = 'The disk of “Two Creeks.farm” is full.'
  show(0)
  expect(screen.getByText(/To look at only\. The disk of “Two Creeks\.farm” is full\./)).toBeTruthy()
  expect(screen.queryByRole('button', { name: /Go to season/ })).toBeNull()
  farm.refusal = null
})

test('a season that is over has no undo, and a way to the one that is open', () => {
  show(0)
  screen.getByText(/This season is over: it is read, not changed/)
  screen.getByRole('button', { name: 'Go to season 2028' })
  expect(screen.queryByRole('button', { name: /^Undo/ })).toBeNull()
  expect(screen.queryByRole('alert')).toBeNull()
})

test('each change that was refused is told once more', async () => {
  const { rerender } = show(1)
  const first = screen.getByRole('alert')
  expect(first.textContent).toBe('Nothing was changed.')
  await rerender({ refusals: 2 })
  expect(screen.getByRole('alert')).not.toBe(first)
})

test('does not say that all is saved when the engine went away with the last change', async () => {
  useTransport({ call: () => Promise.reject(new Error('gone')), listen: () => () => undefined })
  await saving.change('farm.close', {})
  expect(saving.isCutOff).toBe(true)
  farm.isReadOnly = false
  const { rerender } = show(0)
  await rerender({ isCutOff: saving.isCutOff, savedAt: new Date() })
  screen.getByText('The last change may not be saved')
  useTransport({ call: () => Promise.resolve({ ok: true, value: null } as never), listen: () => () => undefined })
  await saving.change('farm.close', {})
  await rerender({ isCutOff: saving.isCutOff })
  screen.getByText(/All changes saved/)
  farm.isReadOnly = true
})
