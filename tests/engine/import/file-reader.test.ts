/** The thread that reads strangers' files: its time, its memory, stopping it, and that the next file is read after all of these. */
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../../src-main/engine/farm-file.ts'
import { FileReader, type ReaderLimits } from '../../../src-main/engine/import/file-reader.ts'
import { startTestEngine } from '../../support/engine.ts'
import { smallSeason } from '../../support/open-file.ts'

function reader(limits?: ReaderLimits): FileReader {
  const made = new FileReader(limits)
  onTestFinished(() => made.close())
  return made
}

const small = { kind: 'sheets' as const, name: 'small.csv', bytes: Buffer.from('Field,Acres\nHill,40\n') }
/** 1.8 million cells, 9 MB: a second or more of work. */
const large = {
  kind: 'sheets' as const,
  name: 'large.csv',
  bytes: Buffer.from(`${'field,'.repeat(18)}\n`.repeat(90_000)),
}

test('refuses a file that takes longer than the limit and reads the next', async () => {
  // No machine reads this file in a millisecond.
  const limits = { milliseconds: 1, megabytes: 512 }
  const slow = reader(limits)
  expect(await slow.read(large)).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file', what: expect.stringContaining('too long'), where: { file: 'large.csv' } }],
  })
  limits.milliseconds = 120_000
  expect(await slow.read(small)).toMatchObject({ ok: true })
})

test('refuses a file that needs more memory than the limit and reads the next', async () => {
  const tight = reader({ milliseconds: 120_000, megabytes: 24 })
  expect(await tight.read(large)).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file', what: expect.stringContaining('memory'), where: { file: 'large.csv' } }],
  })
  expect(await tight.read(small)).toMatchObject({ ok: true, value: { sheets: [{ page: null }] } })
})

test('reads a file once for all the looks of an import', async () => {
  const once = reader()
  const first = await once.read(small)
  expect(await once.read({ ...small, bytes: Buffer.from(small.bytes) })).toBe(first)
  expect(await once.read({ ...small, name: 'other.csv' })).not.toBe(first)
})

test('stops reading when asked, changes nothing, and reads the next file', async () => {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const made = createFarm(join(host.engine.home, 'Creek.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  host.engine.farm = made.value
  const given = ({ name, bytes }: typeof large) => ({ name, base64: bytes.toString('base64') })
  // Read to its end beside it, by a reader that nobody stops.
  let isReadElsewhere = false
  const elsewhere = reader({ milliseconds: 120_000, megabytes: 512 })
  const whole = elsewhere.read(large).then((answer) => {
    isReadElsewhere = true
    return answer
  })
  const look = host.call('import.look', { files: [given(large)] })
  await new Promise((resolve) => setTimeout(resolve, 50))
  await host.must('import.stop', {})
  expect(await look).toMatchObject({ ok: false, problems: [{ what: 'You canceled the import.' }] })
  expect(isReadElsewhere).toBe(false)
  expect(await whole).toMatchObject({ ok: true })
  expect(await host.must('import.look', { files: [given(small)] })).toMatchObject({ tables: [{ rows: [{ row: 2 }] }] })
  expect(host.bugs).toEqual([])
})

test('closes its thread with the engine, also while a file is read', async () => {
  const host = startTestEngine()
  const file = { name: large.name, base64: large.bytes.toString('base64') }
  const look = host.call('import.look', { files: [file] })
  await new Promise((resolve) => setTimeout(resolve, 50))
  await host.close()
  expect(await look).toMatchObject({ ok: false })
})
