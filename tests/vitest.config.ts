/**
 * Three kinds of test. `node` (engine, shared, rules, migrations) and `component` (Svelte in jsdom, tests/renderer) share a process a
 * worker: what a file imports is there for the next one, and the component tests take 15 s of processor time in place of 61. `apart` is
 * a process a file, for what breaks node:fs or the solver, mocks a module, or measures its own process.
 */
import { svelte } from '@sveltejs/vite-plugin-svelte'
import { svelteTesting } from '@testing-library/svelte/vite'
import { resolve } from 'node:path'
import { defineConfig } from 'vitest/config'
import ByWeight from './tools/by-weight.mjs'
import { sampleSeed } from './tools/sample-seed.mjs'

const root = resolve(import.meta.dirname, '..')
const apart = [
  'tests/safety/**/*.test.ts',
  'tests/speed/**/*.test.ts',
  'tests/plan/**/*.test.ts',
  'tests/engine/memory.test.ts',
  'tests/engine/serve.test.ts',
]
/** [ms] Only what hangs is ended: a machine that does much else is slow, and no test hangs on how fast it is. */
const patience = { testTimeout: 300_000, hookTimeout: 300_000 }
// Also where vitest is run by itself, a part of an exhaustive set hangs on the commit.
process.env.STANDWELL_SEED ??= sampleSeed()

export default defineConfig({
  root,
  test: {
    sequence: { sequencer: ByWeight },
    // By itself vitest leaves a processor for a person who works beside it: on two that is half of them.
    maxWorkers: '100%',
    // `npm run test:coverage`: what reckons, stores and reads in. A command's own process and the solver's thread are not seen.
    coverage: {
      provider: 'v8',
      include: ['src-shared/**', 'src-main/engine/{plan,db,import}/**'],
      reporter: ['text-summary', 'html'],
      reportsDirectory: resolve(root, 'coverage'),
      reportOnFailure: true,
      thresholds: { branches: 95 },
    },
    projects: [
      { root, test: { name: 'apart', environment: 'node', include: apart, ...patience } },
      {
        root,
        test: {
          name: 'node',
          environment: 'node',
          isolate: false,
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/renderer/**', 'tests/windows/**', ...apart],
          ...patience,
        },
      },
      {
        root,
        // svelteTesting picks Svelte's browser build and empties the page after each test.
        plugins: [svelte({ configFile: false }), svelteTesting()],
        test: {
          name: 'component',
          environment: 'jsdom',
          isolate: false,
          include: ['tests/renderer/**/*.test.ts'],
          setupFiles: [resolve(root, 'tests/support/component-setup.ts')],
          ...patience,
        },
      },
    ],
  },
})
