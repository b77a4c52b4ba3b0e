/** The built host as a program: what it prints, what a page may do under it, and that it leaves when told. */
import { once } from 'node:events'
import { expect, forkStandwell, startStandwell, test } from './fixtures.ts'

test('the window opens from the printed address and breaks no policy', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await expect(page).toHaveTitle(/Standwell/)
  await expect(page.locator('body')).not.toBeEmpty()
})

test('a page cannot run text as code, nor reach another host', async ({ page, standwell, faults }) => {
  await page.goto(standwell.address)
  const outcome = await page.evaluate(async () => {
    const script = document.createElement('script')
    script.textContent = 'window.planted = true'
    document.head.append(script)
    const reached = await fetch('https://example.org/').then(
      () => true,
      () => false,
    )
    return { planted: 'planted' in window, reached }
  })
  expect(outcome).toEqual({ planted: false, reached: false })
  // These faults are the proof; anything else would still fail the test.
  expect(
    faults.every((fault) => /Content Security Policy|violates|Refused|example\.org|Failed to load/i.test(fault)),
  ).toBe(true)
  faults.length = 0
})

test('it prints one line, the address, and leaves cleanly on a signal', async ({ standwell }) => {
  const child = forkStandwell(standwell.home)
  let said = ''
  child.stdout?.on('data', (text) => (said += text))
  child.stderr?.on('data', (text) => (said += text))
  await once(child, 'message')
  child.kill('SIGINT')
  const [code] = await once(child, 'exit')
  expect(code).toBe(0)
  expect(said).toMatch(/^Standwell is at http:\/\/127\.0\.0\.1:\d+\/enter\/[\w-]{43}\n$/)
})

test('it leaves when the program that started it is gone', async ({ standwell }) => {
  const other = await startStandwell(standwell.home)
  expect(await other.stop()).toBe(0)
  const child = forkStandwell(standwell.home)
  await once(child, 'message')
  child.disconnect()
  const [code] = await once(child, 'exit')
  expect(code).toBe(0)
})
