/** What axe finds serious on a page as it stands, in words short enough for a failed test. */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'
import { expect } from './fixtures.ts'

async function faultsOf(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).analyze()
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .slice(0, 5)
          .map(({ html }) => html.slice(0, 120))
          .join(' | ')}`,
    )
}

/** Nothing serious in either theme. */
export async function isClean(page: Page, what: string): Promise<void> {
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    expect(await faultsOf(page), `${what}, ${colorScheme}`).toEqual([])
  }
}
