/** Whole windows: the built pages in Chromium against the loopback host, and in Electron where there is one. */
import { defineConfig } from '@playwright/test'
import { resolve } from 'node:path'
import { chromiumArgs, findChromium } from './tools/chromium.mjs'

export default defineConfig({
  testDir: resolve(import.meta.dirname, 'windows'),
  testMatch: '**/*.spec.ts',
  outputDir: resolve(import.meta.dirname, '../test-results'),
  timeout: 60_000,
  workers: 2,
  forbidOnly: Boolean(process.env.CI),
  reporter: 'list',
  use: {
    viewport: { width: 1366, height: 768 },
    trace: 'retain-on-failure',
    launchOptions: { executablePath: findChromium() ?? undefined, args: chromiumArgs },
  },
})
