/** Blocks by week: sliders that keys move, and what is kept by Enter and put back by Escape. */
import { fireEvent, render, screen } from '@testing-library/svelte'
import { beforeEach, expect, test, vi } from 'vitest'
import type { call } from '../../../../src-renderer/engine/call.ts'
import { Moving } from '../../../../src-renderer/pages/calendar/moving.svelte.ts'
import WeekGrid from '../../../../src-renderer/pages/calendar/WeekGrid.svelte'
import { loadsOf, saysOf } from '../../../../src-renderer/pages/calendar/loads.ts'
import { aCalendar, creek } from '../../../support/a-calendar.ts'

const asked = vi.fn<(name: string, input: unknown) => Promise<unknown>>()
/** Moves that are asked of the function above. */
const moved = () => new Moving(asked as unknown as typeof call)

/** jsdom lays nothing out. */
class NoSizes {
  observe() {}
  unobserve() {}
  disconnect() {}
}

beforeEach(() => {
  vi.stubGlobal('ResizeObserver', NoSizes)
  asked.mockReset()
  asked.mockResolvedValue({ ok: true, value: { cents: 14_000, atLeastCents: null, says: '$140 more.' }, revision: 1 })
})

function show({ isReadOnly = false, isSaved = true } = {}) {
  const keep = vi.fn(() => Promise.resolve(isSaved))
  render(WeekGrid, { view: aCalendar(), hatchOf: () => 0, moving: moved(), isReadOnly, keep })
  return { keep, slider: (name: RegExp) => screen.getByRole('slider', { name }) }
}

test('every planted part is a slider with its week in words', () => {
  const { slider } = show()
  expect(screen.getAllByRole('slider')).toHaveLength(3)
  const bar = slider(/^Planting week of Creek, Bison, 63 acres$/)
  expect(bar.getAttribute('aria-valuetext')).toBe('week of May 10, kept')
  expect([
    bar.getAttribute('aria-valuemin'),
    bar.getAttribute('aria-valuenow'),
    bar.getAttribute('aria-valuemax'),
  ]).toEqual(['1', '2', '3'])
})

test('keys move a block within the open weeks; Escape puts it back', async () => {
  const { slider, keep } = show()
  const bar = slider(/^Planting week of Creek/)
  await fireEvent.keyDown(bar, { key: 'ArrowRight' })
  expect(bar.getAttribute('aria-valuetext')).toMatch(/^week of May 17/)
  expect(screen.getByText('Working it out…')).toBeTruthy()
  expect(await screen.findByText('$140 more.')).toBeTruthy()
  await fireEvent.keyDown(bar, { key: 'ArrowRight' })
  expect(bar.getAttribute('aria-valuetext')).toMatch(/^week of May 17/)
  await fireEvent.keyDown(bar, { key: 'Escape' })
  expect(bar.getAttribute('aria-valuetext')).toMatch(/^week of May 10/)
  expect(screen.queryByRole('button', { name: 'Keep it there' })).toBeNull()
  // Enter keeps nothing where nothing was moved.
  await fireEvent.keyDown(bar, { key: 'Enter' })
  expect(keep).not.toHaveBeenCalled()
})

test('Enter keeps a block in its new week; what is not saved stays on its way', async () => {
  const { slider, keep } = show({ isSaved: false })
  const bar = slider(/^Planting week of Creek/)
  await fireEvent.keyDown(bar, { key: 'Home' })
  await fireEvent.keyDown(bar, { key: 'Enter' })
  expect(keep).toHaveBeenCalledExactlyOnceWith(
    { field: 'Creek', variety: creek.variety, from: '2027-05-10', acres: 63 },
    '2027-05-03',
  )
  expect(screen.getByRole('button', { name: 'Keep it there' })).toBeTruthy()
})

test('a part of a field in two weeks is moved with its own acres', async () => {
  const { slider } = show()
  await fireEvent.keyDown(slider(/^Planting week of Mill.*, 7 acres$/), { key: 'End' })
  expect(screen.getByText(/, 7 acres: week of /)).toBeTruthy()
})

test('what cannot be is not offered to be kept', async () => {
  asked.mockResolvedValue({
    ok: true,
    value: { cents: null, atLeastCents: null, says: 'It does not fit.' },
    revision: 1,
  })
  const { slider, keep } = show()
  const bar = slider(/^Planting week of Creek/)
  await fireEvent.keyDown(bar, { key: 'End' })
  expect(await screen.findByText('It does not fit.')).toBeTruthy()
  expect(screen.getByRole('button', { name: 'Keep it there' }).hasAttribute('disabled')).toBe(true)
  await fireEvent.keyDown(bar, { key: 'Enter' })
  expect(keep).not.toHaveBeenCalled()
})

test('in a closed season nothing can be moved', () => {
  show({ isReadOnly: true })
  expect(screen.queryByRole('slider')).toBeNull()
})

test('loads are of the weeks that have some, and say where more is planned than fits', () => {
  const view = aCalendar()
  expect(loadsOf(view, 'planting').map(({ week }) => week)).toEqual(['2027-05-03', '2027-05-10', '2027-05-17'])
  expect(saysOf('Digging', loadsOf(view, 'digging'))).toBe(
    'Digging, 2 weeks from Sep 20 to Sep 27, fullest Sep 27 with 60 of 50 acres. 1 week holds more than fits.',
  )
  expect(saysOf('Combining', loadsOf(view, 'combining'))).toBe(
    'Combining, 2 weeks from Sep 20 to Sep 27, fullest Sep 27 with 50 acres.',
  )
  expect(saysOf('Planting', [])).toBe('Planting: nothing.')
})
