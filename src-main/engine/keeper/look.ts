/**
 * A farm whose disk takes no writing, opened to be looked at: a copy of it, with its journal, in a folder for what is passing.
 * The disk itself is left as it is.
 */
import { chmodSync, copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { fail, type Problem, type Result } from '../../../src-shared/problem.ts'
import type { OpenFarm } from '../farm-file.ts'
import { isThere } from './beside.ts'

/**
 * @param why what the disk said when it was opened to be written in
 * @param open opens the copy as any farm
 * @returns the first problems where no copy can be made, or where the copy does not open either
 */
export function openToLook(
  path: string,
  why: readonly Problem[],
  open: (copy: string) => Result<OpenFarm>,
): Result<OpenFarm> {
  let folder: string | null = null
  try {
    folder = mkdtempSync(join(tmpdir(), 'standwell-look-'))
    const copy = join(folder, basename(path))
    for (const ending of ['', '-wal', '-journal', '.sha256']) {
      if (!isThere(path + ending)) continue
      copyFileSync(path + ending, copy + ending)
      chmodSync(copy + ending, 0o600)
    }
    const opened = open(copy)
    if (opened.ok) return { ok: true, value: toLook(opened.value, path, folder, why) }
  } catch {
    // Told is what the farm's own disk said.
  }
  if (folder !== null) rmSync(folder, { recursive: true, force: true })
  return fail(...why)
}

function toLook(farm: OpenFarm, path: string, folder: string, [why]: readonly Problem[]): OpenFarm {
  return {
    ...farm,
    path,
    isReadOnly: true,
    refusal: why ?? null,
    close() {
      farm.close()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}
