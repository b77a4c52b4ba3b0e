/** Holds import-table.ts. Its message is meant to teach: what is allowed here, and three ways out. */
import { dirname, posix } from 'node:path'
import ts from 'typescript'
import { describe, expect, test } from 'vitest'
import { tyingFiles, table } from './import-table.ts'
import type { Source } from './sources.ts'
import { sources } from './sources.ts'

const code = sources(['.ts', '.mjs', '.svelte']).filter(({ path }) => !path.startsWith('tests/'))

/** Everything a file imports, types and dynamic imports too, as paths from the root or package names. */
function importsOf({ path, text }: Source): string[] {
  const script = path.endsWith('.svelte')
    ? [...text.matchAll(/<script[^>]*>([\s\S]*?)<\/script>/g)].map((m) => m[1]).join('\n')
    : text
  return ts.preProcessFile(script, true, true).importedFiles.map(({ fileName }) => {
    const bare = fileName.replace(/\?.*$/, '')
    if (bare.startsWith('/')) return bare.slice(1)
    return bare.startsWith('.') ? posix.normalize(posix.join(dirname(path), bare)) : bare
  })
}

/** `src-renderer/pages/plan/`, `src-renderer/grid/`, `src-main/engine/seed-orders/`: the folder a file belongs to. */
function ownFolder(path: string): string {
  const depth = path.startsWith('src-renderer/pages/') || path.startsWith('src-main/engine/') ? 3 : 2
  return `${path.split('/').slice(0, depth).join('/')}/`
}

function breaches(source: Source): string[] {
  const line = table.find(({ from }) => from.test(source.path))
  if (!line) return [`${source.path} belongs nowhere: give it a line in tests/rules/import-table.ts.`]
  return importsOf(source)
    .filter(
      (target) =>
        !line.allow.some((allowed) =>
          allowed.source === '^\\$own' ? target.startsWith(ownFolder(source.path)) : allowed.test(target),
        ),
    )
    .map((target) =>
      [
        `${source.path} imports ${target}.`,
        `  It may import: ${line.may}.`,
        `  Ways out: (1) move what you need to src-shared if it is pure; (2) take it as an argument, so that the`,
        `  caller, which may import both, brings them together; (3) if the table is wrong, change it in`,
        `  tests/rules/import-table.ts and say why in the commit.`,
      ].join('\n'),
    )
}

test('every import is one the table allows', () => {
  expect(code.length).toBeGreaterThan(10)
  expect(code.flatMap(breaches).join('\n\n')).toBe('')
})

test('every file that the table names is there', () => {
  const paths = new Set(code.map(({ path }) => path))
  expect(tyingFiles.filter((name) => !paths.has(`src-main/engine/${name}.ts`))).toEqual([])
})

describe('planted breaches are caught', () => {
  const planted: [path: string, text: string][] = [
    ['src-shared/field.ts', `import { app } from 'electron'`],
    ['src-shared/field.ts', `import type { Engine } from '../src-main/engine/engine.ts'`],
    ['src-shared/field.ts', `import { readFileSync } from 'node:fs'`],
    ['migrations/index.ts', `import { acres } from '../src-shared/field.ts'`],
    ['src-main/main.ts', `import { createServer } from './engine/serve.ts'`],
    ['src-main/app/window.ts', `await import('../engine/serve.ts')`],
    ['src-main/preload.ts', `import { readFileSync } from 'node:fs'`],
    ['src-main/engine/fields.ts', `import { list } from './varieties.ts'`],
    ['src-main/engine/fields.ts', `import Database from 'better-sqlite3'`],
    ['src-main/engine/serve.ts', `import { app } from 'electron'`],
    ['src-main/engine/db/undo.ts', `import type Database from 'better-sqlite3'`],
    ['src-main/engine/plan/model.ts', `import { readFileSync } from 'node:fs'`],
    ['src-main/engine/plan/model.ts', `import type { Tables } from '../db/tables.ts'`],
    ['src-main/engine/plan/solver.ts', `import highs from 'highs'`],
    ['src-main/engine/plan/solve-worker.ts', `import highs from 'highs'`],
    ['src-renderer/pages/plan/PlanPage.svelte', `<script lang="ts">import X from '../fields/X.svelte'</script>`],
    ['src-renderer/engine/call.ts', `import type { Engine } from '../../src-main/engine/engine.ts'`],
    ['src-renderer/grid/Grid.svelte', `<script module>export * from '../ui/Button.svelte'</script>`],
    ['src-main/other.ts', `export {}`],
  ]
  test.each(planted)('%s: %s', (path, text) => {
    expect(breaches({ path, text })).toHaveLength(1)
  })
})

describe('allowed imports are not', () => {
  const allowed: [path: string, text: string][] = [
    ['src-main/engine/db/connect.ts', `import Database from 'better-sqlite3'`],
    ['src-main/engine/plan/run-model.ts', `import highs from 'highs'`],
    ['src-main/engine/handlers.ts', `import { list } from './fields.ts'`],
    ['src-renderer/pages/plan/PlanPage.svelte', `<script lang="ts">import X from './X.svelte'</script>`],
    ['src-renderer/App.svelte', `<script lang="ts">import X from './pages/plan/X.svelte'</script>`],
  ]
  test.each(allowed)('%s: %s', (path, text) => {
    expect(breaches({ path, text })).toEqual([])
  })
})
