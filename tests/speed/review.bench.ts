/**
 * `npm run bench:review [-- rounds]`: how long the season review of a large farm takes: gathering it from the file, reckoning
 * it, one working, the lessons. Goal: the review in under half a second. Prints what it measures; asserts nothing.
 */
import { join } from 'node:path'
import { runnerImport } from 'vite'

// The migrations are gathered by the bundler, so the measured file is loaded through it.
await runnerImport(join(import.meta.dirname, 'review-measured.ts'), { configFile: false, logLevel: 'error' })
