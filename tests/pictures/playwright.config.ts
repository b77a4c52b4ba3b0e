/** `npm run pictures`: the pictures of the README, taken anew from the built window. */
import { defineConfig } from '@playwright/test'
import { chromiumArgs, findChromium } from '../tools/chromium.mjs'

export default defineConfig({
  testDir: import.meta.dirname,
  testMatch: 'take.ts',
  outputDir: '../../test-results',
  timeout: 180_000,
  workers: 1,
  reporter: 'list',
  use: {
    viewport: { width: 1280, height: 800 },
    launchOptions: { executablePath: findChromium() ?? undefined, args: chromiumArgs },
  },
})
