/** The closing line counts what ran: a skip is never a pass, and a file that does not load is a failure. */
import { expect, test } from 'vitest'
import { playwrightCounts, slowest, vitestCounts } from './counts.mjs'

test('vitest', () => {
  const test = (status: string) => ({ status, fullName: `a ${status} test` })
  const report = {
    testResults: [
      {
        status: 'passed',
        name: '/somewhere/tests/plan/a.test.ts',
        assertionResults: [{ ...test('passed'), duration: 12 }, test('passed'), test('pending'), test('todo')],
      },
      { status: 'failed', assertionResults: [test('failed'), test('passed')] },
      { status: 'failed', assertionResults: [] },
    ],
  }
  const names = ['a pending test', 'a todo test']
  expect(vitestCounts(report)).toEqual({
    ...{ passed: 3, failed: 2, skipped: 2, names },
    times: [{ ms: 12, name: 'plan/a.test.ts: a passed test' }],
  })
})

test('playwright', () => {
  const spec = (status: string) => ({
    title: status,
    file: 'a.spec.ts',
    tests: [{ status, annotations: [{ type: 'skip', description: 'why' }], results: [{ duration: 3 }] }],
  })
  const report = {
    errors: [{}],
    suites: [{ specs: [spec('expected')], suites: [{ specs: [spec('unexpected'), spec('flaky'), spec('skipped')] }] }],
  }
  expect(playwrightCounts(report)).toMatchObject({ passed: 1, failed: 3, skipped: 1, names: ['skipped: why'] })
  expect(playwrightCounts(report).times).toHaveLength(4)
})

test('the slowest come first, and no more of them than asked', () => {
  const times = [5, 2000, 70].map((ms) => ({ ms, name: `${ms}` }))
  expect(slowest(times, 2)).toEqual(['   2.0 s  2000', '   0.1 s  70'])
})
