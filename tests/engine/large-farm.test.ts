/** A farm of more than one call carries: out and in by pieces, byte for byte, and nothing is left of a copy that was broken off. */
import { createHash, randomFillSync } from 'node:crypto'
import { readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { mostPieceBytes, type FilePlace } from '../../src-shared/sheet/file-piece.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { smallSeason } from '../support/open-file.ts'

/** @param megabytes of pictures */
function farmWithPictures(megabytes: number) {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const made = createFarm(join(host.engine.home, 'Creek.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  host.engine.farm = made.value
  const { connection } = made.value
  connection.exec(`INSERT INTO lot (id, seasonId, varietyId, lotNumber, pounds) VALUES (1, 1, 1, 'A-1', 9)`)
  const put = connection.prepare('INSERT INTO photo_content (sha256, bytes) VALUES (?, ?)')
  for (let n = 0; n < megabytes; n += 1) {
    const bytes = randomFillSync(Buffer.alloc(1_000_000))
    put.run(createHash('sha256').update(bytes).digest('hex'), bytes)
  }
  return host
}

async function takenOut(host: TestEngine): Promise<Buffer[]> {
  const copy = await host.must('farm.copyOut', {})
  const pieces = [Buffer.from(copy.base64, 'base64')]
  for (let from = copy.rest; from !== null;) {
    const piece = await host.must('farm.copyRest', { from })
    pieces.push(Buffer.from(piece.base64, 'base64'))
    from = piece.rest
  }
  return pieces
}

const unfinished = (host: TestEngine) => readdirSync(host.engine.home).filter((name) => /\.(part|copy)/.test(name))

test('carries a farm of 60 MB out and in again, which was refused above 45 MB', async () => {
  const host = farmWithPictures(60)
  const pieces = await takenOut(host)
  expect(pieces.length).toBe(Math.ceil(Buffer.concat(pieces).length / mostPieceBytes))
  expect(Buffer.concat(pieces).length).toBeGreaterThan(60_000_000)
  expect(unfinished(host)).toEqual([])
  const shown = await host.must('field.list', {})
  let after: FilePlace | null = null
  for (const piece of pieces.slice(0, -1)) {
    after = await host.must('farm.bringPiece', { after, base64: piece.toString('base64') })
  }
  const base64 = (pieces.at(-1) as Buffer).toString('base64')
  const farm = await host.must('farm.bringIn', { file: { name: 'From elsewhere.farm', base64, after } })
  expect(farm.fileName).toBe('From elsewhere.farm')
  expect(await host.must('field.list', {})).toEqual(shown)
  expect(host.engine.farm!.connection.prepare('SELECT count(*) FROM photo_content').pluck().get()).toBe(60)
  expect(statSync(join(host.engine.home, farm.fileName)).mode & 0o777).toBe(0o600)
  expect(unfinished(host)).toEqual([])
  expect(host.bugs).toEqual([])
})

test('refuses a piece that came twice, or after another file was begun', async () => {
  const host = farmWithPictures(20)
  const [first, second] = await takenOut(host)
  const piece = (after: FilePlace | null, bytes: Buffer) =>
    host.call('farm.bringPiece', { after, base64: bytes.toString('base64') })
  const begun = await host.must('farm.bringPiece', { after: null, base64: first!.toString('base64') })
  expect((await piece(begun, second!)).ok).toBe(true)
  expect(await piece(begun, second!)).toMatchObject({ ok: false, problems: [{ code: 'missing' }] })
  await host.must('farm.bringPiece', { after: null, base64: first!.toString('base64') })
  expect(await piece({ ...begun, at: begun.at }, second!)).toMatchObject({ ok: false, problems: [{ code: 'missing' }] })
  expect(unfinished(host)).toHaveLength(1)
  // Half a farm is none.
  const file = { name: 'Half.farm', base64: '', after: begun }
  expect(await host.call('farm.bringIn', { file })).toMatchObject({ ok: false })
  expect(readdirSync(host.engine.home)).not.toContain('Half.farm')
})

test('refuses the first piece of a file that is no farm, before the rest of it comes', async () => {
  const host = farmWithPictures(0)
  const base64 = Buffer.alloc(mostPieceBytes, 'film').toString('base64')
  const problems = [{ code: 'bad-file', what: 'This file is not a Standwell farm.' }]
  expect(await host.call('farm.bringPiece', { after: null, base64 })).toMatchObject({ ok: false, problems })
  expect(unfinished(host)).toEqual([])
})

test('leaves nothing of a copy or of a file that was broken off', async () => {
  const host = farmWithPictures(20)
  const begun = await host.must('farm.copyOut', {})
  expect(unfinished(host).length).toBeGreaterThan(0)
  const again = await host.must('farm.copyOut', {})
  expect(await host.call('farm.copyRest', { from: begun.rest! })).toMatchObject({ ok: false })
  expect((await host.call('farm.copyRest', { from: again.rest! })).ok).toBe(true)
  await host.must('farm.bringPiece', { after: null, base64: begun.base64 })
  await host.server.close()
  expect(unfinished(host)).toEqual([])
})
