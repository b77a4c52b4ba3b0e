/** Reads the runners' JSON reports into one kind of count. A test is passed only if it ran and held. */

/** vitest's report: skipped and todo tests are both skips; a file that failed to load is one failure. */
export function vitestCounts(report) {
  const counts = { passed: 0, failed: 0, skipped: 0, names: [] }
  for (const file of report.testResults) {
    if (file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed')) counts.failed += 1
    for (const test of file.assertionResults) {
      if (test.status === 'passed') counts.passed += 1
      else if (test.status === 'failed') counts.failed += 1
      else {
        counts.skipped += 1
        counts.names.push(test.fullName)
      }
    }
  }
  return counts
}

/** Playwright's report nests suites; `flaky` is a failure here, since nothing is retried on purpose. */
export function playwrightCounts(report) {
  const counts = { passed: 0, failed: report.errors?.length ?? 0, skipped: 0, names: [] }
  const visit = (suite) => {
    for (const inner of suite.suites ?? []) visit(inner)
    for (const spec of suite.specs ?? []) {
      for (const test of spec.tests) {
        if (test.status === 'expected') counts.passed += 1
        else if (test.status === 'skipped') {
          counts.skipped += 1
          const reason = test.annotations.find((note) => note.type === 'skip')?.description
          counts.names.push(reason ? `${spec.title}: ${reason}` : spec.title)
        } else counts.failed += 1
      }
    }
  }
  report.suites.forEach(visit)
  return counts
}
