/** Two kinds of test: `node` (engine, shared, rules, migrations) and `component` (Svelte in jsdom, tests/renderer). */
import { svelte } from '@sveltejs/vite-plugin-svelte'
import { svelteTesting } from '@testing-library/svelte/vite'
import { resolve } from 'node:path'
import { defineConfig } from 'vitest/config'
import ByWeight from './tools/by-weight.mjs'
import { sampleSeed } from './tools/sample-seed.mjs'

const root = resolve(import.meta.dirname, '..')
// Also where vitest is run by itself, a part of an exhaustive set hangs on the commit.
process.env.STANDWELL_SEED ??= sampleSeed()

export default defineConfig({
  root,
  test: {
    sequence: { sequencer: ByWeight },
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
      {
        root,
        test: {
          name: 'node',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/renderer/**', 'tests/windows/**'],
          testTimeout: 30_000,
        },
      },
      {
        root,
        // svelteTesting picks Svelte's browser build and empties the page after each test.
        plugins: [svelte({ configFile: false }), svelteTesting()],
        test: { name: 'component', environment: 'jsdom', include: ['tests/renderer/**/*.test.ts'] },
      },
    ],
  },
})
