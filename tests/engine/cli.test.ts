/** The command line as a user runs it: tables, files, exit codes, and problems in words. */
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, describe, expect, it } from 'vitest'
import type { SolvedPlan } from '../../src-shared/plan.ts'
import { seasonFile } from '../support/a-season.ts'

// The source runs as it is under Node 24; the built command is the same file bundled.
const cli = fileURLToPath(new URL('../../src-main/engine/cli.ts', import.meta.url))
const demo = fileURLToPath(new URL('../../src-main/demo/demo.season.json', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'standwell-cli-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

function run(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], { encoding: 'utf8' })
  return { status, stdout, stderr }
}

function fileOf(name: string, content: unknown): string {
  const path = join(folder, name)
  writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content))
  return path
}

describe('plan', () => {
  it('the demo farm: proven to 0.1 % or better, printed and written', () => {
    const out = join(folder, 'plan.json')
    const { status, stdout, stderr } = run('plan', demo, '--out', out)
    expect(stderr).toBe('')
    expect(status).toBe(0)
    expect(stdout).toMatch(/^Order\nDealer +Quote +Packs/)
    expect(stdout).toMatch(/1,116 acres, [\d,]+ packs\.\n1 field rests, 33 acres: Pond Field\.\n/)
    const { plan, proof } = JSON.parse(readFileSync(out, 'utf8')) as SolvedPlan
    expect(proof.status).toBe('proven')
    expect(proof.gap).toBeLessThanOrEqual(0.001)
    expect(plan?.totals.acres).toBeCloseTo(1116, 6)
    expect(proof.boundCents).toBeLessThanOrEqual(proof.costCents ?? 0)
  })

  it('a plan that leaves yield out says so in its first line', () => {
    const season = seasonFile()
    const counted = run('plan', fileOf('counted.season.json', season))
    expect(counted.stdout).toMatch(/^Order\n/)
    season.rules = [{ rule: 'yield-left-out' }]
    const { stdout } = run('plan', fileOf('left-out.season.json', season))
    expect(stdout).toMatch(/^This plan leaves yield out: it counts costs and losses only\.\nOrder\n/)
  })

  it('prints JSON instead of tables', () => {
    const { status, stdout } = run('plan', fileOf('small.season.json', seasonFile()), '--json', '--gap', '0')
    expect(status).toBe(0)
    expect((JSON.parse(stdout) as SolvedPlan).proof.status).toBe('proven')
  })

  it('says in words what no variety may do, with exit code 1', () => {
    const season = seasonFile()
    season.rules = [{ rule: 'largest-loss', subject: 'late leaf spot', amount: 0.0001 }]
    const { status, stderr, stdout } = run('plan', fileOf('strict.season.json', season))
    expect(status).toBe(1)
    expect(stdout).toBe('')
    expect(stderr).toMatch(/No variety may be planted on Creek\. Would lose/)
  })

  it('rules that clash end with exit code 1 and no plan', () => {
    const season = seasonFile()
    season.rules = [{ rule: 'contract', subject: 'high oleic', amount: 50 }]
    const { status, stdout } = run('plan', fileOf('clash.season.json', season))
    expect(status).toBe(1)
    expect(stdout).toBe(
      'No plan keeps every rule.\nThis one cannot be kept:\n  At least 50 acres of high oleic. Giving way by 50 acres is enough.\n',
    )
  })
})

describe('bad input: exit code 2, a place and a remedy, nothing written', () => {
  const bad = (change: (season: ReturnType<typeof seasonFile>) => void) => {
    const season = seasonFile()
    change(season)
    return season
  }
  const cases: [string, unknown, RegExp][] = [
    ['version.season.json', bad((season) => (season.version = 2)), /version: The file is of version 2/],
    ['broken.season.json', '{ "format": ', /broken\.season\.json, line 1: The file is not JSON/],
    [
      'acres.season.json',
      bad((season) => (season.fields[0]!.acres = -4)),
      /fields\[0\]\.acres, Home: Home: "acres" must be more than 0/,
    ],
    [
      'count.season.json',
      bad((season) => delete season.varieties[1]!.seedsPerPound),
      /Small has no value for "seedsPerPound"/,
    ],
    ['quote.season.json', bad((season) => (season.quotes[0]!.variety = 'Huge')), /There is no variety named "Huge"/],
  ]
  it.each(cases)('%s', (name, content, message) => {
    const out = join(folder, `${name}.out`)
    const { status, stdout, stderr } = run('plan', fileOf(name, content), '--out', out)
    expect(status).toBe(2)
    expect(stdout).toBe('')
    expect(stderr).toMatch(message)
    expect(stderr).toContain(name)
    expect(existsSync(out)).toBe(false)
  })

  it('gives the problems as a list with --json', () => {
    const path = fileOf(
      'json.season.json',
      bad((season) => (season.fields[0]!.acres = 0)),
    )
    const { status, stdout } = run('plan', path, '--json')
    expect(status).toBe(2)
    expect(JSON.parse(stdout)).toMatchObject({
      problems: [{ code: 'bad-value', where: { file: 'json.season.json', path: 'fields[0].acres', name: 'Home' } }],
    })
  })

  it.each([
    [['plan', 'no-such-file.json'], /The file is not there/],
    [['plan', folder], /This is not a file/],
    [['plan', demo, '--gap', '7'], /--gap must be a number from 0 to 0\.5/],
    [['plan', demo, '--fast'], /standwell plan FILE/],
    [['plan'], /standwell plan FILE/],
    [['schema', 'farm'], /schema season\|problem/],
    [[], /^$/],
  ])('%j', (args, message) => {
    const { status, stderr } = run(...args)
    expect(status).toBe(2)
    expect(stderr).toMatch(message)
  })

  it('refuses a file that is not UTF-8', () => {
    const path = join(folder, 'latin.season.json')
    writeFileSync(path, Buffer.from([0x7b, 0x22, 0xe9, 0x22, 0x7d]))
    expect(run('plan', path).stderr).toMatch(/UTF-8/)
  })
})

describe('solve', () => {
  const problem = {
    format: 'standwell-problem',
    version: 1,
    fields: [
      { id: 'a', acres: 10 },
      { id: 'b', acres: 10 },
    ],
    varieties: [{ id: 'v' }, { id: 'w' }],
    options: [
      { field: 'a', variety: 'v', cashCents: 100, poundsPerAcre: 100 },
      { field: 'a', variety: 'w', cashCents: 300, poundsPerAcre: 100 },
      { field: 'b', variety: 'v', cashCents: 100, poundsPerAcre: 100 },
      { field: 'b', variety: 'w', cashCents: 250, poundsPerAcre: 100 },
    ],
    dealers: [{ id: 'd' }],
    quotes: [
      { id: 'dv', dealer: 'd', variety: 'v', packPounds: 50, packPriceCents: 1000, availablePacks: 20 },
      { id: 'dw', dealer: 'd', variety: 'w', packPounds: 50, packPriceCents: 1000 },
    ],
  }

  it('a problem worked by hand: one field must leave the scarce variety, and it is the cheaper one to move', () => {
    const { status, stdout } = run('solve', fileOf('hand.json', problem), '--gap', '0', '--json')
    expect(status).toBe(0)
    const { plan } = JSON.parse(stdout) as SolvedPlan
    // 40 packs at $10 = 40,000; field a in v 1,000; field b in w 2,500.
    expect(plan?.totals.costCents).toBe(43_500)
    expect(plan?.blocks.map((block) => `${block.field}${block.variety}`)).toEqual(['av', 'bw'])
  })

  it('refuses ids that stand twice and ids that are not there', () => {
    const twice = {
      ...problem,
      fields: [...problem.fields, { id: 'a', acres: 3 }],
      options: [{ ...problem.options[0], variety: 'x' }],
    }
    const { status, stderr } = run('solve', fileOf('ids.json', twice))
    expect(status).toBe(2)
    expect(stderr).toMatch(/The id "a" stands twice in fields/)
    expect(stderr).toMatch(/There is no variety with the id "x"/)
  })
})

it.each(['season', 'problem'])('schema %s is a JSON Schema that describes its own format', (which) => {
  const { status, stdout } = run('schema', which)
  expect(status).toBe(0)
  expect(JSON.parse(stdout)).toMatchObject({
    type: 'object',
    properties: { format: { const: `standwell-${which}` }, version: { const: 1 } },
  })
})

describe('orders', () => {
  const small = () => fileOf('orders.season.json', seasonFile())

  it('one for each dealer, as text, as data and as a table; of a plan worked out or of one written before', () => {
    const out = join(folder, 'orders-plan.json')
    expect(run('plan', small(), '--out', out, '--gap', '0').status).toBe(0)
    const { plan } = JSON.parse(readFileSync(out, 'utf8')) as SolvedPlan
    const text = run('orders', small(), '--gap', '0')
    expect(text).toMatchObject({ status: 0, stderr: '' })
    expect(text.stdout).toMatch(/^North\nQuote +Packs/)
    expect(text.stdout).toContain('Treated seed is poisonous')
    expect(run('orders', small(), '--plan', out).stdout).toBe(text.stdout)
    const data = JSON.parse(run('orders', small(), '--plan', out, '--json').stdout) as { sums: { cents: number } }[]
    expect(data.reduce((sum, order) => sum + order.sums.cents, 0)).toBe(plan?.totals.seedCents)
    const csv = run('orders', small(), '--plan', out, '--csv').stdout
    expect(csv).toMatch(/^\uFEFFDealer,Quote,/)
    expect(csv).toContain(`North,Total,,,,,,,,${plan?.totals.packs},`)
  })

  it('leaves out quotes that have ended, and says when all have', () => {
    const season = seasonFile()
    for (const quote of season.quotes) quote.orderBy = '2027-01-31'
    const path = fileOf('ended.season.json', season)
    expect(run('orders', path, '--today', '2027-01-31').status).toBe(0)
    const late = run('orders', path, '--today', '2027-02-01')
    expect(late.status).toBe(2)
    expect(late.stderr).toContain('The last day to order of every quote is over.')
    expect(run('orders', path, '--today', 'tomorrow')).toMatchObject({ status: 2 })
  })

  it('refuses a plan of another season, or no plan, at its place', () => {
    const other = fileOf('other-plan.json', {
      plan: {
        purchases: [
          {
            quote: 'Nobody · Big',
            dealer: 'Nobody',
            variety: 'Big',
            packs: 1,
            packPounds: 50,
            packPriceCents: 1,
            fromPacks: 0,
            pounds: 50,
            cents: 1,
          },
        ],
      },
    })
    expect(run('orders', small(), '--plan', other).stderr).toMatch(
      /other-plan\.json, plan\.purchases\[0\]\.quote, .*the season does not have/,
    )
    expect(run('orders', small(), '--plan', fileOf('no-plan.json', { plan: null })).status).toBe(2)
    expect(run('orders', small(), '--plan', join(folder, 'nowhere.json')).stderr).toContain('The file is not there.')
  })
})
