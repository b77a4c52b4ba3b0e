/** Hands the terminal to the built command line and leaves with its exit code. */
import { spawn } from 'node:child_process'
import { constants } from 'node:os'
import { join } from 'node:path'
import { project } from './build.mjs'

export async function runCommandLine(args) {
  const entry = join(project, 'out', 'main', 'cli.js')
  // npm runs scripts in the project; a file named on the command line is meant from where it was typed.
  const { npm_lifecycle_event: script, INIT_CWD: typedIn } = process.env
  const cwd = script === 'standwell' && typedIn ? typedIn : process.cwd()
  const child = spawn(process.execPath, [entry, ...args], { stdio: 'inherit', cwd })
  // Ctrl+C reaches the child too, and it decides what to save before it leaves.
  process.on('SIGINT', () => undefined)
  process.on('SIGTERM', () => child.kill('SIGTERM'))
  const [code, signal] = await new Promise((resolve) => child.on('close', (...how) => resolve(how)))
  process.exitCode = code ?? 128 + (constants.signals[signal] ?? 1)
}
