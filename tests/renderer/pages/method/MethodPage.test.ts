/** The page: two parts, figures that were reckoned, a box that finds words; nothing is asked of the engine. */
import { fireEvent, render, screen, within } from '@testing-library/svelte'
import { expect, test } from 'vitest'
import MethodPage from '../../../../src-renderer/pages/method/MethodPage.svelte'
import { workExample } from '../../../../src-renderer/pages/method/example.ts'
import { words } from '../../../../src-renderer/pages/method/words.ts'
import { cautions } from '../../../../src-shared/threat.ts'

const show = () => render(MethodPage, { title: 'Method and words', purpose: 'What it is for.' })

const textOf = (element: HTMLElement) => (element.textContent ?? '').replace(/\s+/g, ' ')
/** Words that are shown: what is put aside has no role. */
const shown = () => screen.getAllByRole('term').map(textOf)

test('formulas stand with their numbers in, and where these are from; cautions at the end', () => {
  show()
  const seed = within(screen.getByRole('table', { name: 'Seed, formulas' }))
  expect(textOf(seed.getByRole('row', { name: /^Seed, lb\/acre/ }))).toContain(
    workExample().get('seed pounds')?.formula,
  )
  expect(textOf(seed.getByRole('row', { name: /^Seeds that make a plant/ }))).toContain(
    'emergence in single rows, 0.83 share of viable seed: derived',
  )
  const mind = textOf(screen.getByRole('region', { name: 'To mind' }))
  for (const says of Object.values(cautions)) expect(mind).toContain(says)
  expect(screen.queryByRole('searchbox')).toBeNull()
})

test('a word is found as it is typed; how many are is told; the others are back when the box is empty', async () => {
  show()
  await fireEvent.click(screen.getByRole('button', { name: 'Words' }))
  expect(screen.queryByRole('table')).toBeNull()
  const told = () => textOf(screen.getByRole('status')).trim()
  expect(told()).toBe(`${words.length} words`)
  expect(shown()).toHaveLength(words.length)
  const box = screen.getByRole('searchbox', { name: 'Find a word' })
  await fireEvent.input(box, { target: { value: 'thrips' } })
  expect(told()).toBe(`1 word of ${words.length}`)
  expect(shown()).toEqual(['Spotted wilt'])
  await fireEvent.input(box, { target: { value: 'zzz' } })
  expect(told()).toBe('No word here has “zzz” in it. Try a shorter one.')
  expect(screen.queryByRole('term')).toBeNull()
  await fireEvent.input(box, { target: { value: '' } })
  expect(shown()).toHaveLength(words.length)
})
