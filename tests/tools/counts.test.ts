/** The closing line counts what ran: a skip is never a pass, and a file that does not load is a failure. */
import { expect, test } from 'vitest'
import { playwrightCounts, vitestCounts } from './counts.mjs'

test('vitest', () => {
  const test = (status: string) => ({ status, fullName: `a ${status} test` })
  const report = {
    testResults: [
      { status: 'passed', assertionResults: [test('passed'), test('passed'), test('pending'), test('todo')] },
      { status: 'failed', assertionResults: [test('failed'), test('passed')] },
      { status: 'failed', assertionResults: [] },
    ],
  }
  const names = ['a pending test', 'a todo test']
  expect(vitestCounts(report)).toEqual({ passed: 3, failed: 2, skipped: 2, names })
})

test('playwright', () => {
  const spec = (status: string) => ({
    title: status,
    tests: [{ status, annotations: [{ type: 'skip', description: 'why' }] }],
  })
  const report = {
    errors: [{}],
    suites: [{ specs: [spec('expected')], suites: [{ specs: [spec('unexpected'), spec('flaky'), spec('skipped')] }] }],
  }
  expect(playwrightCounts(report)).toEqual({ passed: 1, failed: 3, skipped: 1, names: ['skipped: why'] })
})
