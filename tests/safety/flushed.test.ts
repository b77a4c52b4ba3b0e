/**
 * Is it on the disk when it is acknowledged? A killed process loses nothing that it wrote, a power cut does: so what is asked of
 * the system is looked at, by `strace`, at every kind of change and of work on files.
 */
import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import type { Reply } from '../../src-shared/api.ts'
import { makeOldFarm } from '../support/old-farm.ts'
import { startChild, type EngineChild } from './engine-child.ts'
import { whatCouldBeLost } from './flush-trace.ts'

function canTrace(): boolean {
  try {
    execFileSync('strace', ['-f', '-o', '/dev/null', process.execPath, '--version'], { stdio: 'ignore' })
    return true
  } catch {
    return false
  }
}

const scratch = mkdtempSync(join(tmpdir(), 'standwell-flushed-'))
afterAll(() => rmSync(scratch, { recursive: true, force: true }))
let answers = 0
afterAll(() => process.stdout.write(`answers traced: ${answers}\n`))

const field = (name: string) => ({ name, acres: 40, water: 'dryland', yieldGoalLb: 4000 })

const paste = (n: number) => ({
  sheet: 'field' as const,
  says: 'Add fields',
  added: Array.from({ length: 150 }, (_, key) => ({
    key,
    values: { ...field(`F${n}-${key}`), note: 'x'.repeat(900) },
  })),
})

async function must(reply: Promise<Reply | null>): Promise<Reply & { ok: true }> {
  const given = await reply
  if (!given?.ok) throw new Error(JSON.stringify(given))
  answers += 1
  return given
}

/** A season's kinds of work on a file, each acknowledged before the next is asked. */
async function everything(child: EngineChild, home: string): Promise<void> {
  await must(child.call('farm.start', { name: 'Creek', season: 2027 }))
  await must(child.call('sheet.change', { sheet: 'field', says: 'Add', added: [{ key: 1, values: field('One') }] }))
  await must(child.call('undo.back', {}))
  await must(child.call('undo.forward', {}))
  await must(child.call('setting.set', { key: 'width', value: 3 }))
  const made = await must(child.call('backup.make', {}))
  // Enough that the journal is written into the file.
  for (let n = 0; n < 12; n += 1) await must(child.call('sheet.change', paste(n)))
  await must(child.call('farm.rename', { name: 'Long Creek' }))
  await must(child.call('backup.restore', { backup: (made.value as { fileName: string }).fileName }))
  mkdirSync(join(home, 'elsewhere'))
  await must(child.desk('desk.copyTo', { path: join(home, 'elsewhere', 'Copy.farm') }))
  await must(child.desk('desk.moveTo', { path: join(home, 'elsewhere', 'Creek.farm') }))
  await must(child.call('farm.copyOut', {}))
  await must(child.call('season.roll', { crops: [] }))
  await must(child.call('farm.close', {}))
  const base64 = readFileSync(join(home, 'elsewhere', 'Creek.farm')).toString('base64')
  await must(child.call('farm.bringIn', { file: { name: 'Brought.farm', base64 } }))
  await must(child.call('farm.open', { fileName: 'Old.farm' }))
  await must(child.call('farm.close', {}))
}

test.skipIf(!canTrace())(
  'what is acknowledged is flushed, file and folder, and nothing is named before',
  limit(120),
  async () => {
    const home = join(scratch, 'home')
    mkdirSync(home)
    makeOldFarm(home)
    const trace = join(scratch, 'trace')
    const child = await startChild(home, 0, trace)
    await everything(child, home)
    await child.leave()
    const present = [join(home, 'Old.farm'), join(home, 'elsewhere')]
    const text = readFileSync(trace, 'utf8')
    expect(text.match(/socket.*reply/g)?.length).toBe(answers)
    expect(whatCouldBeLost(text, home, present)).toEqual([])
  },
)

const line = (text: string) => `7 ${text} = 0\n`
const reply = line('write(3<socket:[1]>, "o\\"\\2id\\"\\5reply\\"{\\"ok\\":true", 60)')
const whole =
  line('openat(AT_FDCWD</x>, "/h/A.part", O_RDWR|O_CREAT, 0600)') +
  line('pwrite64(5</h/A.part>, "..", 2, 0)') +
  line('fsync(5</h/A.part>)') +
  line('rename("/h/A.part", "/h/A.farm")') +
  line('fsync(6</h>)')

test('a trace in which all is flushed is found in order', () => {
  expect(whatCouldBeLost(whole + reply, '/h')).toEqual([])
})

test.each([
  ['a file that is not flushed', 'fsync(5</h/A.part>)', 'named before it was flushed'],
  ['a folder that is not flushed', 'fsync(6</h>)', 'h is not flushed since A.farm'],
])('%s is found', (_, left, what) => {
  const found = whatCouldBeLost(whole.replace(line(left), '') + reply, '/h')
  expect(found.map((each) => each.what)).toContain(what)
})

test('a journal that is not flushed before the answer is found; one flushed in two parts is not', () => {
  const write = line('pwrite64(5</h/A.farm-wal>, "..", 2, 0)')
  expect(whatCouldBeLost(write + reply, '/h', ['/h/A.farm-wal'])).toMatchObject([{ what: 'A.farm-wal is not flushed' }])
  const parts = '7 fsync(5</h/A.farm-wal> <unfinished ...>\n8 fsync(9</y>) = 0\n7 <... fsync resumed>) = 0\n'
  expect(whatCouldBeLost(write + parts + reply, '/h', ['/h/A.farm-wal'])).toEqual([])
})
