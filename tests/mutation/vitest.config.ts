/** The quick tests that reach what is mutated: a mutant runs only those that cover it (`npm run test:mutation`). */
import { resolve } from 'node:path'
import { defineConfig } from 'vitest/config'

const root = process.cwd()
process.env.STANDWELL_SEED ??= 'mutation'

export default defineConfig({
  root,
  test: {
    environment: 'node',
    include: [
      'tests/shared/**/*.test.ts',
      'tests/published/{book,capacity,fall,newsvendor,review,rotation,seed-law,seeding,stands}.test.ts',
      'tests/plan/{rules,conflicts,check,edges,price}.test.ts',
    ].map((path) => resolve(root, path)),
    // Neither reaches what is mutated.
    exclude: ['tests/shared/boundary-check.test.ts', 'tests/shared/sheet/**'].map((path) => resolve(root, path)),
    testTimeout: 120_000,
  },
})
