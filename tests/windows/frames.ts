/** Waiting counted in what a window does, not in seconds: a machine that does much else paints later, and as often. */
import type { Page } from '@playwright/test'

/** Until the window has painted so many frames more: what an action sets off by itself is done by then. */
export function frames(page: Page, count: number): Promise<void> {
  return page.evaluate(
    (left) =>
      new Promise<void>((done) => {
        const next = () => (left-- > 0 ? requestAnimationFrame(next) : done())
        next()
      }),
    count,
  )
}
