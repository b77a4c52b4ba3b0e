/** Whole windows: the built pages in Chromium against the loopback host, and in Electron where there is one. */
import { defineConfig } from '@playwright/test'
import { resolve } from 'node:path'
import { chromiumArgs, findChromium } from './tools/chromium.mjs'

export default defineConfig({
  testDir: resolve(import.meta.dirname, 'windows'),
  testMatch: '**/*.spec.ts',
  outputDir: resolve(import.meta.dirname, '../test-results'),
  // Wide enough for a machine that does much else: what is waited for comes, or the test fails, whatever it takes.
  timeout: 300_000,
  expect: { timeout: 60_000 },
  workers: 2,
  fullyParallel: true,
  forbidOnly: Boolean(process.env.CI),
  reporter: 'list',
  use: {
    viewport: { width: 1366, height: 768 },
    // Recording every step doubles what a test takes: STANDWELL_TRACE=1 records it, for a test that has failed.
    trace: process.env.STANDWELL_TRACE ? 'retain-on-failure' : 'off',
    launchOptions: { executablePath: findChromium() ?? undefined, args: chromiumArgs },
  },
})
