/** What axe finds serious on a page as it stands, in words short enough for a failed test. */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'

export async function faultsOf(page: Page): Promise<string[]> {
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
