/** receive, rates and trace as a user runs them, on a farm file that another program could open next. */
import { spawnSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import type { DeliveriesNow } from '../../src-shared/delivery.ts'
import { problemLine } from '../../src-shared/problem.ts'
import type { SpringVerb } from '../../src-shared/delivery-file.ts'
import { readJson } from '../../src-shared/read-file.ts'
import type { RatesNow } from '../../src-shared/rates.ts'
import type { TraceNow } from '../../src-shared/trace.ts'
import { springCommand, type SpringOptions } from '../../src-main/engine/cli-spring.ts'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import { pick } from '../shared/demo-farm.ts'
import { temporaryFolder } from '../support/open-file.ts'
import { spring, springFarm } from '../support/spring-farm.ts'

const cli = fileURLToPath(new URL('../../src-main/engine/cli.ts', import.meta.url))

/** As the command line calls it; the built command itself is run by tests/windows. */
async function run(verb: SpringVerb, farm: string, options: Partial<SpringOptions> & { load?: string } = {}) {
  const { load, ...rest } = options
  const done = await springCommand(verb, farm, {
    today: spring,
    json: false,
    confirm: false,
    csv: false,
    delivery: () => readJson(readFileSync(load ?? '', 'utf8'), 'load.json'),
    ...rest,
  })
  return done.ok ? { text: done.value, wrong: '' } : { text: '', wrong: done.problems.map(problemLine).join('\n') }
}

test(
  'a load is received from a file, all of it or none; then rates and trace tell of it',
  { timeout: 300_000 },
  async () => {
    const { receipts, must, engine } = await springFarm()
    const { dealers } = await must('delivery.list', {})
    const line = pick(await receipts(), ({ packs }) => packs > 3)
    const { dealer } = pick(dealers, (each) => each.lines.some(({ lineId }) => lineId === line.lineId))
    const farm = engine.farm!.path
    engine.farm!.close()
    engine.farm = null
    const folder = temporaryFolder()
    const file = (name: string, content: unknown) => {
      const path = join(folder, name)
      writeFileSync(path, JSON.stringify(content))
      return path
    }
    const load = {
      dealer,
      arrivedOn: '2027-04-12',
      ticket: 'T-1',
      lots: [{ variety: line.variety, lotNumber: '0071', packs: 2, packPounds: line.packPounds }],
    }
    const received = await run('receive', farm, { load: file('load.json', load), json: true })
    expect(received.wrong).toBe('')
    const now = JSON.parse(received.text) as DeliveriesNow
    const after = now.dealers.flatMap(({ lines }) => lines).find(({ lineId }) => lineId === line.lineId)
    expect(after).toMatchObject({ camePounds: 2 * line.packPounds, owedPounds: line.pounds - 2 * line.packPounds })

    // The second lot is one that is there: the first goes too.
    const half = { ...load, lots: [{ ...load.lots[0], lotNumber: '0072' }, load.lots[0]] }
    const refused = await run('receive', farm, { load: file('half.json', half) })
    expect(refused.wrong).toContain('has a lot 0071 already')
    const opened = openFarm(farm)
    if (!opened.ok) throw new Error('not opened')
    expect(opened.value.connection.prepare('SELECT lotNumber FROM lot').pluck().all()).toEqual(['0071'])
    expect(opened.value.connection.prepare('SELECT count(*) FROM delivery').pluck().get()).toBe(1)
    opened.value.close()

    for (const [content, words] of [
      [{ ...load, dealer: 'Nobody' }, 'no dealer Nobody'],
      [{ ...load, arrivedOn: '2027-04-21' }, 'still to come'],
      [{ ...load, lots: [{ ...load.lots[0], variety: 'Nothing' }] }, 'no variety Nothing'],
      [{ ...load, lots: [{ ...load.lots[0], packs: -2 }] }, 'lots.0.packs'],
      [{ ...load, lots: [{ ...load.lots[0], quote: 'Nothing' }] }, 'no order line Nothing'],
      [{ ...load, surprise: 1 }, 'surprise'],
    ] as const) {
      const { wrong } = await run('receive', farm, { load: file('bad.json', content) })
      expect(wrong).toContain(words)
    }

    const rates = await run('rates', farm)
    expect(rates.text).toMatch(/Field +Variety +Acres +Planned seeds\/ft/)
    expect(rates.text).toContain('0071')
    const asJson = JSON.parse((await run('rates', farm, { json: true })).text) as RatesNow
    expect(asJson.blocks.some(({ lots }) => lots.some(({ lot }) => lot === '0071'))).toBe(true)
    expect((await run('rates', farm, { csv: true })).text).toContain('Seeds per acre')
    expect((await run('rates', farm, { today: 'soon' })).wrong).toContain('--today must be a date')

    const trace = await run('trace', farm, { lot: '0071' })
    expect(trace.text).toContain('Lot 0071')
    expect(trace.text).toContain('not closed')
    const traced = JSON.parse((await run('trace', farm, { lot: '0071', json: true })).text) as TraceNow
    expect(traced.lots.map(({ lotNumber }) => lotNumber)).toEqual(['0071'])
    expect((await run('trace', farm, { lot: 'none' })).wrong).toContain('no lot none')
    expect((await run('trace', farm, { field: 'none' })).wrong).toContain('no field none')
    expect((await run('trace', join(folder, 'load.json'))).wrong).toContain('not a Standwell farm')
    // It was closed each time: the next one may open it.
    const last = openFarm(farm)
    expect(last.ok).toBe(true)
    if (last.ok) last.value.close()
  },
)

test('the schema of a delivery is printed', () => {
  const { status, stdout } = spawnSync(process.execPath, [cli, 'schema', 'delivery'], { encoding: 'utf8' })
  expect(status).toBe(0)
  expect((JSON.parse(stdout) as { required: string[] }).required).toEqual(['arrivedOn', 'dealer', 'lots'])
})
