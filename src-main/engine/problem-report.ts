/** What somebody who mends Standwell asks first, in a text that a person can read before sharing it. Nothing is sent. */
import { arch, platform, release } from 'node:os'
import { latestVersion } from '../../migrations/index.ts'
import manifest from '../../package.json' with { type: 'json' }
import type { Engine } from './engine.ts'
import { lastBugs } from './home.ts'
import { lastFarm } from './recent.ts'

export function problemReport(engine: Engine): string {
  const { farm, home } = engine
  const sqlite = farm ? String(farm.connection.prepare('SELECT sqlite_version()').pluck().get()) : 'no farm open'
  const size = farm ? (farm.connection.pragma('page_count', { simple: true }) as number) * 4096 : 0
  const bugs = lastBugs(home)
  return [
    `Standwell ${manifest.version}, files of version ${latestVersion}`,
    `${platform()} ${release()} ${arch()}, Node ${process.versions.node}, SQLite ${sqlite}`,
    `A farm of ${Math.round(size / 1_000_000)} MB is ${farm ? 'open' : 'not open'}; ${lastFarm(home) === null ? 'none' : 'one'} is remembered.`,
    '',
    bugs === '' ? 'No fault has been noted.' : `Faults noted, the last at the end:\n\n${bugs}`,
  ].join('\n')
}
