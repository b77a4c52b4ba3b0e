/** Lessons as rows: nothing is written before a button is pressed, then that one alone; what was said says so. */
import { render, screen } from '@testing-library/svelte'
import { beforeEach, expect, test } from 'vitest'
import type { Transport } from '../../../../src-shared/api.ts'
import type { LessonsNow } from '../../../../src-shared/review/lesson.ts'
import { useTransport } from '../../../../src-renderer/engine/call.ts'
import LessonsPart from '../../../../src-renderer/pages/review/LessonsPart.svelte'

let asked: [name: string, input: unknown][] = []

beforeEach(() => {
  asked = []
  useTransport({
    call: async (name: string, input: unknown) => {
      asked.push([name, input])
      return { ok: true, value: null }
    },
    listen: () => () => undefined,
  } as unknown as Transport)
})

const lesson = (key: string, about: string): LessonsNow['open'][number] => ({
  ...{ key, kind: 'yield', about, evidence: 'On 3 fields it made less.', old: '1.00', seen: '0.90', proposed: '0.96' },
  ...{
    weight: 0.4,
    lines: [],
    change: { to: 'sheet', sheet: 'variety', name: 'Amber', path: 'yieldIndex', value: 0.96 },
  },
})
const lessons: LessonsNow = {
  from: 2027,
  into: 2028,
  open: [lesson('variety/Amber/yieldIndex', 'Yield of Amber'), lesson('variety/Bison/yieldIndex', 'Yield of Bison')],
  said: [{ key: 'book/price/peanuts', state: 'set aside', about: 'Price of peanuts', old: '$500', proposed: '$520' }],
  worth: { fields: 4, seasons: 1 },
}

test('taken, set aside, taken up again: each call names one lesson and its season', async () => {
  render(LessonsPart, { lessons, seasonId: 7 })
  expect(screen.getByRole('heading', { name: 'What 2027 teaches for 2028' })).toBeTruthy()
  expect(asked).toEqual([])
  screen.getByRole('button', { name: 'Take: Yield of Bison' }).click()
  screen.getByRole('button', { name: 'Set aside: Yield of Amber' }).click()
  screen.getByRole('button', { name: 'Take up again: Price of peanuts' }).click()
  await expect
    .poll(() => asked)
    .toEqual([
      ['lesson.take', { seasonId: 7, key: 'variety/Bison/yieldIndex' }],
      ['lesson.setAside', { seasonId: 7, key: 'variety/Amber/yieldIndex', isAside: true }],
      ['lesson.setAside', { seasonId: 7, key: 'book/price/peanuts', isAside: false }],
    ])
})

test('when a lesson is gone after it was taken, the next one’s button has the focus', async () => {
  const { rerender } = render(LessonsPart, { lessons })
  const take = screen.getByRole('button', { name: 'Take: Yield of Amber' })
  take.focus()
  take.click()
  await expect.poll(() => asked.length).toBe(1)
  await rerender({ lessons: { ...lessons, open: lessons.open.slice(1) } })
  await expect.poll(() => document.activeElement?.getAttribute('aria-label')).toBe('Take: Yield of Bison')
})
