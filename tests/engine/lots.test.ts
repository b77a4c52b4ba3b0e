/** Tags, pictures and germination tests of a lot, on a real farm file; and that a lot that was planted is kept. */
import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { pick } from '../shared/demo-farm.ts'
import { entryOf, spring, springFarm } from '../support/spring-farm.ts'

async function oneLot() {
  const farm = await springFarm()
  const line = pick(await farm.receipts(), ({ packs }) => packs > 0)
  const { lotId, lot } = await farm.receive(line)
  const row = async () => pick(await farm.lots(), ({ id }) => id === lotId)
  return { ...farm, line, lotId, given: lot, row }
}

test('a whole tag is kept item by item, checked, and sets what the rates count with', async () => {
  const { row, tag, lotId } = await oneLot()
  const before = await row()
  expect(before).toMatchObject({ tag: null, germinationFrom: 'the variety', countFrom: 'the variety', checks: [] })
  const written = {
    kind: 'Peanut',
    origin: 'Nowhere',
    seedClass: 'certified' as const,
    pureSeed: 0.98,
    otherCrop: 0,
    inert: 0.02,
    weedSeed: 0,
    noxiousKinds: 'none',
    noxiousPerPound: 0,
    germination: 0.82,
    hardSeed: 0,
    testedIn: '2026-12',
    treatment: 'a fungicide',
    caution: 'Not for food, feed or oil',
    shipper: 'North Seed',
    seedsPerPound: 640,
    netPounds: 50,
  }
  await tag(lotId, written)
  const after = await row()
  expect(after.tag).toMatchObject({ ...written, isTreated: true, isHermetic: false, lotNumber: after.lotNumber })
  expect(after).toMatchObject({
    germination: 0.82,
    germinationFrom: 'the tag',
    seedsCounted: 640,
    countFrom: 'the tag',
  })
  expect(after.checks.map(({ item, verdict }) => [item, verdict])).toContainEqual(['germination', 'heed'])
  expect(after.checks.every(({ source }) => source !== '')).toBe(true)
})

test('the newest test goes before the tag; replicates make its germination; own counts go before both', async () => {
  const { must, row, tag, lotId, given } = await oneLot()
  await tag(lotId, { germination: 0.9, seedsPerPound: 640 })
  const save = (testedOn: string, sprouted: number[], germination: number | null = null) =>
    must('test.save', {
      lotId,
      test: {
        testedOn,
        laboratory: 'a laboratory',
        germination,
        hardSeed: null,
        replicates: sprouted.map((each) => ({ seeds: 100, sprouted: each })),
        note: null,
      },
      today: spring,
    })
  const newer = await save('2027-04-18', [80, 82, 84, 86])
  await save('2027-03-01', [], 0.99)
  expect(await row()).toMatchObject({ germination: 0.83, germinationFrom: 'a test' })
  expect((await row()).checks).toContainEqual(expect.objectContaining({ item: 'replicates', verdict: 'fits' }))
  // Corrected in its place: it is still that test.
  await must('test.save', {
    id: newer,
    lotId,
    test: {
      testedOn: '2027-04-18',
      laboratory: null,
      germination: 0.7,
      hardSeed: 0.01,
      replicates: [],
      note: 'again',
    },
    today: spring,
  })
  expect((await row()).tests.map(({ id, germination }) => [id, germination])).toContainEqual([newer, 0.7])
  expect((await row()).checks).toContainEqual(expect.objectContaining({ item: 'retest', verdict: 'fails' }))
  await must('test.remove', { id: newer })
  expect(await row()).toMatchObject({ germination: 0.99 })
  await must('lot.save', { id: lotId, lot: { ...given, seedsPerPound: 655 } })
  expect(await row()).toMatchObject({ seedsCounted: 655, countFrom: 'own count' })
})

test('bad tags and tests are refused at the door: over 100 %, of the future, more seedlings than seeds', async () => {
  const { call, lotId, row, tag } = await oneLot()
  await tag(lotId)
  const whole = (await row()).tag!
  const test = { testedOn: spring, laboratory: null, germination: 0.8, hardSeed: null, replicates: [], note: null }
  for (const [name, input, words] of [
    ['tag.save', { lotId, tag: { ...whole, germination: 1.01 }, today: spring }, 'must be from 0 to 100 %'],
    ['tag.save', { lotId, tag: { ...whole, germination: 85 }, today: spring }, 'must be from 0 to 100 %'],
    ['tag.save', { lotId, tag: { ...whole, pureSeed: -0.1 }, today: spring }, 'must be from 0 to 100 %'],
    ['tag.save', { lotId, tag: { ...whole, testedIn: '2027-05' }, today: spring }, 'still to come'],
    ['tag.save', { lotId, tag: { ...whole, testedIn: '2027-13' }, today: spring }, 'a month such as'],
    ['tag.save', { lotId: 99, tag: whole, today: spring }, 'not there'],
    ['test.save', { lotId, test: { ...test, testedOn: '2027-04-21' }, today: spring }, 'still to come'],
    ['test.save', { lotId, test: { ...test, germination: 1.2 }, today: spring }, 'must be from 0 to 100 %'],
    ['test.save', { lotId, test: { ...test, germination: null }, today: spring }, 'must have a germination'],
    [
      'test.save',
      { lotId, test: { ...test, replicates: [{ seeds: 100, sprouted: 101 }] }, today: spring },
      'more seedlings than seeds',
    ],
  ] as const) {
    const reply = await call(name, input as never)
    expect(reply.ok, words).toBe(false)
    if (!reply.ok) expect(reply.problems[0]?.what).toContain(words)
  }
  // The month in which it is today is not the future.
  expect((await call('tag.save', { lotId, tag: { ...whole, testedIn: '2027-04' }, today: spring })).ok).toBe(true)
  expect((await row()).tag?.testedIn).toBe('2027-04')
})

test('a picture is kept as it came, with its hash; one that is not what it says is refused', async () => {
  const { call, must, lotId, row, engine } = await oneLot()
  const jpeg = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(3000, 7)])
  const pdf = Buffer.from('%PDF-1.7\nnothing\n')
  const add = (name: string, bytes: Buffer) =>
    call('tag.addPhoto', { lotId, file: { name, base64: bytes.toString('base64') } })
  const first = await add('tag.JPG', jpeg)
  expect(first.ok).toBe(true)
  expect((await add('tag.pdf', pdf)).ok).toBe(true)
  expect((await add('scan', pdf)).ok).toBe(true)
  for (const [name, bytes] of [
    ['tag.jpg', pdf],
    ['tag.pdf', jpeg],
    ['tag.png', jpeg],
    ['tag.jpg', Buffer.from('<svg onload="x"/>')],
    ['tag.exe', jpeg],
    ['tag.jpg', Buffer.alloc(0)],
  ] as const) {
    expect(await add(name, bytes), name).toMatchObject({
      ok: false,
      problems: [{ code: 'bad-file', where: { file: name } }],
    })
  }
  const { photos } = await row()
  const sha256 = createHash('sha256').update(jpeg).digest('hex')
  expect(photos).toHaveLength(3)
  expect(photos[0]).toMatchObject({ fileName: 'tag.JPG', mediaType: 'image/jpeg', size: jpeg.length, sha256 })
  const { id } = photos[0]!
  const back = await must('tag.photo', { id })
  expect(Buffer.from(back.base64, 'base64').equals(jpeg)).toBe(true)
  // Bytes changed behind its back are not handed out as the picture that was kept.
  engine
    .farm!.connection.prepare('UPDATE photo_content SET bytes = ? WHERE sha256 = ?')
    .run(Buffer.from('other'), sha256)
  expect(await call('tag.photo', { id })).toMatchObject({ ok: false, problems: [{ code: 'damaged' }] })
})

test('a lot that was planted can be neither taken away, refused nor made another variety', async () => {
  const { call, must, lotId, given, line } = await oneLot()
  const [field] = (await must('planting.list', {})).fields
  await must('planting.save', {
    planting: entryOf({ fieldId: field!.id, lots: [{ lotId, packs: null, pounds: 100 }] }),
    today: spring,
  })
  const other = line.varietyId === 1 ? 2 : 1
  for (const [name, input] of [
    ['lot.remove', { id: lotId }],
    ['lot.save', { id: lotId, lot: { ...given, state: 'refused' } }],
    ['lot.save', { id: lotId, lot: { ...given, varietyId: other } }],
  ] as const) {
    const reply = await call(name, input as never)
    expect(reply).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
    if (!reply.ok) expect(reply.problems[0]?.what).toContain('was planted')
  }
  // What may still be corrected is.
  await must('lot.save', { id: lotId, lot: { ...given, leftPounds: 5, note: 'torn bag' } })
})

test('carried seed becomes a lot of its own, once', async () => {
  const { must, lots } = await springFarm()
  const { carried } = await must('delivery.list', {})
  expect(carried).toHaveLength(1)
  const [seed] = carried
  await must('lot.save', {
    lot: {
      lotNumber: seed!.lot ?? 'own',
      varietyId: seed!.varietyId,
      deliveryId: null,
      carriedSeedId: seed!.id,
      orderLineId: null,
      state: 'received',
      packs: null,
      packPounds: null,
      pounds: seed!.pounds,
      returnedPounds: 0,
      leftPounds: null,
      seedsPerPound: null,
      note: null,
    },
  })
  expect((await must('delivery.list', {})).carried).toEqual([])
  expect((await lots())[0]).toMatchObject({ lotNumber: 'C-17', dealer: null, pounds: 600 })
  // What was typed under Seed on hand as its new test is what its rates count with, until a later one is written down.
  const cells = [{ id: seed!.id, path: 'germination', value: 0.71 }]
  await must('sheet.change', { sheet: 'carried', says: 'Test it', cells })
  expect((await lots())[0]).toMatchObject({ germination: 0.71, germinationFrom: 'a test' })
})

test('refuses a germination that was typed as a share of one, on a tag, in a test and of seed carried over', async () => {
  const { call, lotId, row, must } = await oneLot()
  const today = '2027-03-01'
  const refused = { ok: false, problems: [{ code: 'bad-value' }] }
  expect(await call('tag.set', { lotId, items: { germination: 0.0085 }, today })).toMatchObject(refused)
  expect(await call('tag.set', { lotId, items: { pureSeed: 0.0098 }, today })).toMatchObject(refused)
  const test = { testedOn: today, laboratory: null, germination: 0.0085, hardSeed: null, replicates: [], note: null }
  expect(await call('test.save', { lotId, test, today })).toMatchObject(refused)
  expect((await row()).tag).toBeNull()
  // Dead seed is seen as such, and a trace of weeds is one.
  await must('tag.set', { lotId, items: { germination: 0, weedSeed: 0.0005 }, today })
  expect((await row()).germination).toBe(0)
})
