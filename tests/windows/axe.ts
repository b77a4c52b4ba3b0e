/** What axe finds serious on a page as it stands, in words short enough for a failed test. */
import AxeBuilder from '@axe-core/playwright'
import type { Page } from '@playwright/test'
import { expect } from './fixtures.ts'

/** @param rules all of them when absent */
async function faultsOf(page: Page, rules?: string[]): Promise<string[]> {
  // What passed is not written out: on a table of hundreds of rows that takes longer than the rules.
  const axe = new AxeBuilder({ page }).options({ resultTypes: ['violations'] }).setLegacyMode()
  const { violations } = await (rules === undefined ? axe : axe.withRules(rules)).analyze()
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

/** Nothing serious in either theme; between them only colors differ. */
export async function isClean(page: Page, what: string): Promise<void> {
  await page.emulateMedia({ colorScheme: 'light' })
  expect(await faultsOf(page), `${what}, light`).toEqual([])
  await page.emulateMedia({ colorScheme: 'dark' })
  expect(await faultsOf(page, ['color-contrast']), `${what}, dark`).toEqual([])
}
