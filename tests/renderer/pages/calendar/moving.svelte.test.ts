/** A block on its way to another week: the cost is asked for once it stands still, and only the last answer counts. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { MoveCost } from '../../../../src-shared/calendar-view.ts'
import type { call } from '../../../../src-renderer/engine/call.ts'
import { Moving, nearestWeek, weekByKey } from '../../../../src-renderer/pages/calendar/moving.svelte.ts'

const asked = vi.fn<(name: string, input: unknown) => Promise<unknown>>()
/** Moves that are asked of the function above. */
const moved = () => new Moving(asked as unknown as typeof call)

const creek = { field: 'Creek', variety: 'Bison', from: '2027-05-10', acres: 63 }
const cost = (cents: number | null, says: string): MoveCost => ({ cents, atLeastCents: null, says })
const ok = (value: unknown) => ({ ok: true, value, revision: 1 })
const moves = () => asked.mock.calls.filter(([name]) => name === 'calendar.move').map(([, input]) => input)

beforeEach(() => {
  vi.useFakeTimers()
  asked.mockReset()
  asked.mockResolvedValue(ok(cost(14_000, '$140 more with all else as it is.')))
})
afterEach(() => vi.useRealTimers())

test('asks for the cost once, of the week that it stands still on', async () => {
  const moving = moved()
  moving.go(creek, '2027-05-17')
  await vi.advanceTimersByTimeAsync(100)
  moving.go(creek, '2027-05-24')
  expect(moving.isWorking).toBe(true)
  await vi.advanceTimersByTimeAsync(1_000)
  const { acres: _acres, ...asks } = creek
  expect(moves()).toEqual([{ ...asks, to: '2027-05-24', seconds: 30 }])
  expect(moving.cost?.says).toBe('$140 more with all else as it is.')
  expect(moving.isWorking).toBe(false)
  expect(moving.isImpossible).toBe(false)
})

test('stops the question it no longer wants, and drops its answer', async () => {
  const moving = moved()
  let answer: (value: unknown) => void = () => undefined
  asked.mockImplementationOnce(() => new Promise((resolve) => (answer = resolve)))
  moving.go(creek, '2027-05-17')
  await vi.advanceTimersByTimeAsync(400)
  asked.mockImplementation((name) => {
    if (name === 'plan.stopWork') answer(ok(cost(99_999_900, 'wrong')))
    return Promise.resolve(ok(cost(0, 'Costs the same.')))
  })
  moving.go(creek, '2027-05-24')
  await vi.advanceTimersByTimeAsync(400)
  expect(asked.mock.calls.map(([name]) => name)).toEqual(['calendar.move', 'plan.stopWork', 'calendar.move'])
  expect(moving.cost?.says).toBe('Costs the same.')
})

test('puts a block back without asking, and forgets what it cost', async () => {
  const moving = moved()
  moving.go(creek, '2027-05-17')
  moving.letGo()
  expect(moving.isLetGo).toBe(true)
  moving.putBack()
  await vi.advanceTimersByTimeAsync(1_000)
  expect(moving.block).toBeNull()
  expect(moves()).toEqual([])
  // Back where it was there is nothing to keep.
  moving.go(creek, '2027-05-17')
  moving.go(creek, '2027-05-10')
  moving.letGo()
  expect(moving.block).toBeNull()
})

test('shows what the engine refuses, and offers nothing that cannot be', async () => {
  const moving = moved()
  asked.mockResolvedValue({ ok: false, problems: [{ code: 'busy', what: 'Other work is running.', remedy: 'Wait.' }] })
  moving.go(creek, '2027-05-17')
  await vi.advanceTimersByTimeAsync(400)
  expect(moving.problems).toHaveLength(1)
  asked.mockResolvedValue(ok(cost(null, 'It does not fit in the week of May 24.')))
  moving.go(creek, '2027-05-24')
  await vi.advanceTimersByTimeAsync(400)
  expect(moving.problems).toEqual([])
  expect(moving.isImpossible).toBe(true)
})

test('finds weeks by day and by key, and stops at the ends', () => {
  const weeks = ['2027-05-03', '2027-05-10', '2027-05-24']
  expect(nearestWeek({ plantingWeeks: weeks }, '2027-04-01')).toBe('2027-05-03')
  expect(nearestWeek({ plantingWeeks: weeks }, '2027-05-18')).toBe('2027-05-24')
  expect(nearestWeek({ plantingWeeks: [] }, '2027-05-18')).toBeNull()
  expect(weekByKey(weeks, '2027-05-10', 'ArrowRight')).toBe('2027-05-24')
  expect(weekByKey(weeks, '2027-05-24', 'ArrowRight')).toBe('2027-05-24')
  expect(weekByKey(weeks, '2027-05-03', 'ArrowLeft')).toBe('2027-05-03')
  expect(weekByKey(weeks, '2027-05-10', 'Home')).toBe('2027-05-03')
  expect(weekByKey(weeks, '2027-05-10', 'End')).toBe('2027-05-24')
  expect(weekByKey(weeks, '2027-05-10', 'a')).toBeNull()
})
