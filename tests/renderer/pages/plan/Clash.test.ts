/** A clash: each rule with what would settle it, a button only where something of the season's does. */
import { render, screen } from '@testing-library/svelte'
import { expect, test, vi } from 'vitest'
import type { ClashingRule, Conflict } from '../../../../src-shared/plan.ts'
import Clash from '../../../../src-renderer/pages/plan/Clash.svelte'

const rule = (id: string, settles: boolean | null): ClashingRule => ({
  id,
  says: `Rule ${id}.`,
  unit: null,
  amount: null,
  settles,
  remedy: settles === true ? 'Giving this one up is enough.' : 'Giving this one up is not enough by itself.',
})
const conflict: Conflict = { rules: [rule('a', true), rule('b', false)], isMinimal: true, says: '', seconds: 0 }

test('the change that settles it is one click, said before it is made', () => {
  const settle = vi.fn()
  const whatIf = { kind: 'unlock' as const, field: 'Creek' }
  render(Clash, { conflict, settling: [{ rule: 'a', whatIf, says: 'Creek is not kept for anything.' }], settle })
  expect(screen.getByRole('heading').textContent).toContain('These rules cannot all be kept')
  const buttons = screen.getAllByRole('button')
  expect(buttons.map((button) => button.textContent?.trim())).toEqual(['Try: Creek is not kept for anything.'])
  buttons[0]?.click()
  expect(settle).toHaveBeenCalledExactlyOnceWith(whatIf)
  expect(screen.getByText(/nothing that you entered is changed/)).toBeTruthy()
})

test('where nothing settles it alone there is nothing to try', () => {
  render(Clash, { conflict: { ...conflict, rules: [rule('b', false)] }, settling: [], settle: vi.fn() })
  expect(screen.getByRole('heading').textContent).toContain('This rule cannot be kept')
  expect(screen.queryByRole('button')).toBeNull()
})
