/** Reads the runners' JSON reports into one kind of count. A test is passed only if it ran and held. */

/** vitest's report: skipped and todo tests are both skips; a file that failed to load is one failure. */
export function vitestCounts(report) {
  const counts = { passed: 0, failed: 0, skipped: 0, names: [], times: [] }
  for (const file of report.testResults) {
    if (file.status === 'failed' && file.assertionResults.every((test) => test.status !== 'failed')) counts.failed += 1
    for (const test of file.assertionResults) {
      if (test.duration) counts.times.push({ ms: test.duration, name: `${shortName(file.name)}: ${test.fullName}` })
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
  const counts = { passed: 0, failed: report.errors?.length ?? 0, skipped: 0, names: [], times: [] }
  const visit = (suite) => {
    for (const inner of suite.suites ?? []) visit(inner)
    for (const spec of suite.specs ?? []) {
      for (const test of spec.tests) {
        const ms = (test.results ?? []).reduce((sum, { duration }) => sum + duration, 0)
        if (ms > 0) counts.times.push({ ms, name: `${spec.file}: ${spec.title}` })
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

/** The file's name from `tests` on. */
function shortName(path = '') {
  return path.replaceAll('\\', '/').replace(/^.*\/tests\//, '')
}

/** The tests that took longest, as lines. */
export function slowest(times, count = 10) {
  const longest = times.toSorted((one, other) => other.ms - one.ms).slice(0, count)
  return longest.map(({ ms, name }) => `${(ms / 1000).toFixed(1).padStart(6)} s  ${name}`)
}
