/**
 * What a program asked of the system, as `strace` wrote it down → what a power cut could have taken. A write lasts when its file
 * was flushed, a name when its folder was; and a file must be flushed before it is given its name.
 */
import { basename, dirname } from 'node:path'

export interface Lost {
  /** The answer before which it had to last; or the name that was given too early. */
  at: string
  what: string
}

/** Notes that may be lost: which farms were opened, faults, what is still being built, and indexes of journals. */
const mayBeLost =
  /(recent\.json(\.part)?|errors(\.old)?\.log|-shm|\.part|\.copy|\.copy\.sha256|\.part-journal|\.copy-journal)$/

/** Long calls of several threads are written in two parts. */
function joined(trace: string): string[] {
  const begun = new Map<string, string>()
  const lines: string[] = []
  for (const line of trace.split('\n')) {
    const [, thread = '', rest = ''] = /^(\d+) +(.*)$/.exec(line) ?? []
    if (rest.endsWith('<unfinished ...>')) begun.set(thread, rest.replace(/ *<unfinished \.\.\.>$/, ''))
    else lines.push(rest.replace(/^<\.\.\. \w+ resumed>/, () => begun.get(thread) ?? ''))
  }
  return lines
}

const quoted = (line: string) => [...line.matchAll(/"((?:[^"\\]|\\.)*)"/g)].map(([, text = '']) => text)

/**
 * @param below the folder whose files count
 * @param present paths that were there when the trace began
 * @returns what was not on the disk when an answer was sent
 */
export function whatCouldBeLost(trace: string, below: string, present: Iterable<string> = []): Lost[] {
  const there = new Set(present)
  const unflushed = new Set<string>()
  /** Names that came or went → their folder is to be flushed. */
  const unlisted = new Map<string, string>()
  const lost: Lost[] = []
  const counts = (path: string) => path.startsWith(`${below}/`)
  const named = (path: string) => counts(path) && unlisted.set(path, dirname(path))

  function renamed(from: string, to: string, isLink: boolean): void {
    if (!counts(to)) return
    if (unflushed.has(from) && !mayBeLost.test(to)) lost.push({ at: basename(to), what: 'named before it was flushed' })
    if (!isLink) {
      if (unflushed.delete(from)) unflushed.add(to)
      for (const path of [...there]) {
        if (path !== from && !path.startsWith(`${from}/`)) continue
        there.delete(path)
        there.add(to + path.slice(from.length))
      }
      named(from)
    }
    there.add(to)
    named(to)
  }

  function answered(at: string): void {
    for (const path of unflushed) if (!mayBeLost.test(path)) lost.push({ at, what: `${basename(path)} is not flushed` })
    for (const [path, folder] of unlisted)
      if (!mayBeLost.test(path)) lost.push({ at, what: `${basename(folder)} is not flushed since ${basename(path)}` })
    unflushed.clear()
    unlisted.clear()
  }

  for (const line of joined(trace)) {
    const [, call = '', handle = ''] = /^(\w+)\((?:\w+<([^>]*)>)?/.exec(line) ?? []
    if (/ = -1 /.test(line)) continue
    const paths = quoted(line)
    const path = handle.replace(/ ?\(deleted\)$/, '')
    if (call === 'openat') {
      const [opened = ''] = paths
      if (line.includes('O_TRUNC') && there.has(opened) && counts(opened)) unflushed.add(opened)
      if (!line.includes('O_CREAT') || there.has(opened) || !counts(opened)) continue
      there.add(opened)
      named(opened)
    } else if (call === 'mkdir') {
      there.add(paths[0] ?? '')
      named(paths[0] ?? '')
    } else if (/^p?write|^ftruncate/.test(call)) {
      // What it sends to whoever started it: an answer.
      const reply = /\\"?\\5reply|reply/.test(line) && path.startsWith('socket')
      if (reply) answered(/\{\\?"ok\\?":\w+/.exec(line)?.[0] ?? 'an answer')
      else if (counts(path)) unflushed.add(path)
    } else if (/^f(data)?sync$/.test(call)) {
      unflushed.delete(path)
      for (const [name, folder] of unlisted) if (folder === path) unlisted.delete(name)
    } else if (/^rename/.test(call)) renamed(paths[0] ?? '', paths[1] ?? '', false)
    else if (/^link/.test(call)) renamed(paths[0] ?? '', paths[1] ?? '', true)
    else if (/^unlink/.test(call)) {
      const gone = paths[0] ?? ''
      there.delete(gone)
      unflushed.delete(gone)
      // A seal that comes back would call a good file broken; what else goes may come back.
      if (gone.endsWith('.sha256')) named(gone)
      else unlisted.delete(gone)
    }
  }
  return lost
}
