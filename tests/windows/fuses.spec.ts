/** The fuses as packaging burns them, in a real Electron program: read back, and one of them tried. */
import { spawnSync } from 'node:child_process'
import { copyFileSync, mkdtempSync, readdirSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { FuseState, FuseV1Options, getCurrentFuseWire } from '@electron/fuses'
import { expect, test } from '@playwright/test'
import { burnFuses, fuses } from '../../src-main/package/fuses.mjs'

const program = process.env.STANDWELL_TEST_ELECTRON ?? ''
test.skip(!program, 'no Electron program could be had')
test.setTimeout(120_000)

test('a packaged program is no Node, takes no options, and runs only its own archive', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'standwell-fuses-'))
  try {
    for (const name of readdirSync(dirname(program))) {
      if (name !== basename(program)) symlinkSync(join(dirname(program), name), join(folder, name))
    }
    const burnt = join(folder, basename(program))
    copyFileSync(program, burnt)
    const asNode = () =>
      spawnSync(burnt, ['-e', 'console.log("as node")'], {
        env: { ...process.env, ELECTRON_RUN_AS_NODE: '1' },
        encoding: 'utf8',
        timeout: 15_000,
      }).stdout
    expect(asNode()).toContain('as node')
    await burnFuses(burnt)
    const wire = (await getCurrentFuseWire(burnt)) as unknown as Record<number, FuseState>
    for (const [fuse, isOn] of Object.entries(fuses)) {
      const name = FuseV1Options[Number(fuse)]
      expect(`${name}: ${FuseState[wire[Number(fuse)] ?? 0]}`).toBe(`${name}: ${isOn ? 'ENABLE' : 'DISABLE'}`)
    }
    expect(asNode()).not.toContain('as node')
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
