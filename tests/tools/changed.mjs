/**
 * `npm run test:changed`: what a change can touch. The static checks of the changed files, and the tests that import them, told by
 * git: since the last commit, or, where nothing has changed since, of the last commit itself. No window test.
 */
import { execFileSync, spawnSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const project = fileURLToPath(new URL('../..', import.meta.url))
const git = (...args) => execFileSync('git', args, { cwd: project, encoding: 'utf8' }).split('\n').filter(Boolean)
const cached = (name) => join(project, '.cache', 'checks', name)

function filesSince(commit) {
  const changed = git('diff', '--name-only', '--relative', commit)
  return [...new Set([...changed, ...git('ls-files', '--others', '--exclude-standard')])]
}

const own = filesSince('HEAD')
const since = own.length > 0 ? 'HEAD' : 'HEAD~1'
const files = (own.length > 0 ? own : filesSince(since)).filter((file) => existsSync(join(project, file)))
const code = files.filter((file) => /\.(ts|mjs|js|svelte)$/.test(file))
const laid = files.filter((file) => /\.(ts|mjs|js|svelte|css|html)$/.test(file))

function bin(name, command = name) {
  const folder = dirname(createRequire(import.meta.url).resolve(`${name}/package.json`))
  const { bin: bins } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'))
  return join(folder, typeof bins === 'string' ? bins : bins[command])
}

let failed = 0
function run(name, script, args) {
  const begun = Date.now()
  const { status } = spawnSync(process.execPath, [script, ...args], { cwd: project, stdio: 'inherit' })
  if (status !== 0) failed += 1
  process.stdout.write(`${status === 0 ? 'ok  ' : 'FAIL'} ${name} (${((Date.now() - begun) / 1000).toFixed(1)} s)\n`)
}

process.stdout.write(`${files.length} files changed since ${since}\n`)
if (laid.length > 0) run('layout (prettier)', bin('prettier'), ['--check', '--log-level', 'warn', ...laid])
if (code.length > 0) {
  const typed = ['--noEmit', '--incremental', '--tsBuildInfoFile', cached('tsc')]
  run('types (tsc)', bin('typescript', 'tsc'), typed)
  const kept = ['--cache', '--cache-strategy', 'content', '--cache-location', cached('eslint')]
  run('lint (eslint)', bin('eslint'), [...kept, '--max-warnings', '0', '--no-warn-ignored', ...code])
}
if (files.some((file) => file.endsWith('.svelte'))) {
  const how = ['--tsconfig', './tsconfig.json', '--threshold', 'warning', '--fail-on-warnings']
  run('types (svelte-check)', bin('svelte-check'), how)
}
if (files.length > 0) {
  const vitest = [
    'run',
    '--config',
    'tests/vitest.config.ts',
    '--changed',
    since,
    '--passWithNoTests',
    '--reporter=dot',
  ]
  run('tests that the change can touch (vitest)', bin('vitest'), vitest)
}
process.exitCode = failed > 0 ? 1 : 0
