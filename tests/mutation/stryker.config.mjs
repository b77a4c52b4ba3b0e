/**
 * `npm run test:mutation`: what is changed in the agronomy, the plan's rules and the review without any test failing. Hours of work:
 * run it by itself, a folder at a time: `npm run test:mutation -- --mutate "src-shared/review/*.ts"`. Not part of `npm test`.
 */
export default {
  testRunner: 'vitest',
  vitest: { configFile: 'tests/mutation/vitest.config.ts', related: false },
  plugins: ['@stryker-mutator/vitest-runner'],
  mutate: ['src-shared/agronomy/**/*.ts', 'src-main/engine/plan/rules/**/*.ts', 'src-shared/review/**/*.ts'],
  coverageAnalysis: 'perTest',
  concurrency: 1,
  incremental: true,
  incrementalFile: '.cache/mutation/incremental.json',
  tempDirName: '.cache/mutation/sandbox',
  ignorePatterns: ['out', 'dist', '.cache', 'coverage', 'test-results', 'tests/windows', 'tests/pictures'],
  reporters: ['clear-text', 'progress-append-only'],
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
  timeoutMS: 60_000,
  thresholds: { high: 95, low: 85, break: null },
  disableTypeChecks: false,
}
