/** What-ifs: each changes what it says and nothing else, leaves the season alone, and names what is not there. */
import { expect, it, test } from 'vitest'
import * as v from 'valibot'
import { draftSeason, draftSettingsSchema, sayDraft } from '../../src-shared/draft.ts'
import type { Season } from '../../src-shared/season.ts'
import { withWhatIfs } from '../../src-shared/apply-what-if.ts'
import { sayWhatIf, whatIfSchema, type WhatIf } from '../../src-shared/what-if.ts'
import { changesBetween } from '../../src-main/engine/plan/changes.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import { ruleKinds } from '../../src-shared/rule.ts'
import { demoFarm } from './demo-farm.ts'

const season = demoFarm()

function applied(...whatIfs: WhatIf[]): Season {
  const before = JSON.stringify(season)
  const changed = withWhatIfs(season, whatIfs)
  if (!changed.ok) throw new Error(JSON.stringify(changed.problems))
  expect(JSON.stringify(season)).toBe(before)
  return changed.value
}

const [quote] = season.quotes
if (quote === undefined) throw new Error('The demo has quotes.')
const title = quoteTitle(quote)
const field = season.fields[0]?.name ?? ''

test.each<[WhatIf, string, number]>([
  [{ kind: 'price', variety: 'Linden', percent: 10 }, 'Linden is 10 % dearer.', 1],
  [{ kind: 'price', quote: title, percent: -5 }, `${title} is 5 % cheaper.`, 2],
  [{ kind: 'variety-gone', variety: 'Saltgrass' }, 'Saltgrass cannot be had.', 2],
  [{ kind: 'rule-off', rule: 'most-varieties' }, 'Without the rule: Plant no more than … varieties.', 1],
  [{ kind: 'rule-on', rule: 'budget' }, 'With the rule: Spend no more than … on seed and measures.', 1],
  [
    { kind: 'rule-by', rule: 'contract', subject: 'high oleic', by: -50 },
    'Plant at least … of high oleic. By 50 acres less.',
    1,
  ],
  [{ kind: 'packs', quote: title, availablePacks: 7 }, `${title}: 7 packs can be had.`, 1],
  [{ kind: 'delivers', dealer: quote.dealer, mostPounds: 900 }, `${quote.dealer} delivers no more than 900 pounds.`, 1],
  [{ kind: 'lock', field, variety: 'Linden' }, `${field} is kept for Linden.`, 1],
  [{ kind: 'exclude', field, variety: 'Linden' }, `Linden is not planted on ${field}.`, 1],
  [{ kind: 'germination', variety: 'Linden', germination: 0.7 }, 'Linden germinates at 70 %.', 1],
])('%j', (whatIf, says, least) => {
  expect(v.parse(whatIfSchema, whatIf)).toEqual(whatIf)
  expect(sayWhatIf(whatIf)).toBe(says)
  const changes = changesBetween(season, applied(whatIf))
  expect(changes.length, changes.join(' ')).toBeGreaterThanOrEqual(least)
  // Nothing but what the change is about.
  const named = Object.values(whatIf).filter((part) => typeof part === 'string' && part !== whatIf.kind)
  // A rule is told by its sentence.
  const sentence = 'rule' in whatIf ? ruleKinds[whatIf.rule].says.split(' {')[0] : undefined
  const about = [...named, ...(sentence === undefined ? [] : [sentence])]
  for (const change of changes)
    expect(
      about.some((part) => change.includes(String(part))),
      change,
    ).toBe(true)
})

it('a price moves breaks with it, to the cent', () => {
  const dearer = applied({ kind: 'price', percent: 10 })
  dearer.quotes.forEach((each, index) => {
    const before = season.quotes[index] as Season['quotes'][number]
    expect(each.packPriceCents).toBe(Math.round(before.packPriceCents * 1.1))
    expect(each.breaks.map((level) => level.packPriceCents)).toEqual(
      before.breaks.map((level) => Math.round(level.packPriceCents * 1.1)),
    )
  })
})

it('a lock takes the place of another, and is taken off again', () => {
  const locked = applied({ kind: 'lock', field, variety: 'Linden' }, { kind: 'lock', field, variety: 'Cobbler' })
  expect(locked.locks).toEqual([{ field, variety: 'Cobbler' }])
  expect(applied({ kind: 'lock', field, variety: 'Linden' }, { kind: 'unlock', field }).locks).toEqual([])
})

test.each<[WhatIf]>([
  [{ kind: 'price', quote: 'Nobody · Nothing', percent: 1 }],
  [{ kind: 'variety-gone', variety: 'Nothing' }],
  [{ kind: 'rule-off', rule: 'largest-share', subject: 'Linden' }],
  [{ kind: 'lock', field: 'Nowhere', variety: 'Linden' }],
  [{ kind: 'delivers', dealer: 'Nobody', mostPounds: 1 }],
  [{ kind: 'exclude' }],
])('%j names nothing the season has, and is refused', (whatIf) => {
  const changed = withWhatIfs(season, [whatIf])
  expect(changed.ok).toBe(false)
  if (!changed.ok) expect(changed.problems[0]?.remedy).toMatch(/\.$/)
})

it('a draft: weight, rules off and what-ifs together; every rule of the season can be off', () => {
  const settings = v.parse(draftSettingsSchema, {
    riskWeight: 2,
    rulesOff: season.rules.map(({ rule, subject }) => ({ rule, subject })),
    whatIfs: [{ kind: 'variety-gone', variety: 'Linden' }],
  })
  const drafted = draftSeason(season, settings)
  if (!drafted.ok) throw new Error(JSON.stringify(drafted.problems))
  expect(drafted.value.rules.filter((rule) => rule.isOn)).toEqual([{ rule: 'risk-weight', amount: 2, isOn: true }])
  expect(sayDraft(settings)).toHaveLength(season.rules.length + 2)
  expect(draftSeason(season, v.parse(draftSettingsSchema, {}))).toEqual({ ok: true, value: season })
})

test.each<[WhatIf, string]>([
  [{ kind: 'price', percent: 3 }, 'All seed is 3 % dearer.'],
  [{ kind: 'lock', field: 'Hill', variety: 'Amber', window: 'Early' }, 'Hill is kept for Amber in the Early window.'],
  [{ kind: 'exclude', window: 'Early' }, 'Nothing is planted in the Early window.'],
  [{ kind: 'exclude', variety: 'Amber' }, 'Amber is not planted.'],
  [{ kind: 'allow', variety: 'Amber', window: 'Early' }, 'Amber may be planted in the Early window.'],
  [{ kind: 'allow', field: 'Hill' }, 'Anything may be planted on Hill.'],
  [{ kind: 'longer-days', machine: 'planter', hours: 1 }, 'Each planter works 1 hour a day longer.'],
  [{ kind: 'longer-days', machine: 'digger', hours: -1.5 }, 'Each digger works 1.5 hours a day less.'],
  [{ kind: 'rule-by', rule: 'most-varieties', by: 2 }, 'Plant no more than … varieties. By 2 varieties more.'],
  [
    { kind: 'rule-by', rule: 'largest-loss', subject: 'rust', by: -0.02 },
    'Lose no more than … of any field to rust. By 2 % less.',
  ],
  [{ kind: 'rule-by', rule: 'early-twin-rows', by: 1 }, 'In an early window plant twin rows only. By 1 more.'],
])('%j is said', (whatIf, says) => {
  expect(sayWhatIf(whatIf)).toBe(says)
})

it('longer days for a machine that the farm has not are refused with what to do', () => {
  const bare = { ...season, machines: season.machines.filter(({ kind }) => kind !== 'digger') }
  expect(withWhatIfs(bare, [{ kind: 'longer-days', machine: 'digger', hours: 1 }])).toMatchObject({
    ok: false,
    problems: [
      {
        code: 'unknown-name',
        what: expect.stringMatching(/^The farm has no digger for the what-if/),
        remedy: 'Enter the machine, or take the what-if out.',
      },
    ],
  })
})

it('what may stay is taken from lots of the variety that must be used, and no more than was said', () => {
  const lot = { variety: 'Linden', pounds: 400, mustUse: true, isOwnGrown: false }
  const carried = [lot, { ...lot, pounds: 300 }, { ...lot, variety: 'Cobbler' }, { ...lot, mustUse: false }, lot]
  const changed = withWhatIfs({ ...season, carried }, [{ kind: 'may-stay', variety: 'Linden', pounds: 500 }])
  if (!changed.ok) throw new Error(JSON.stringify(changed.problems))
  const must = changed.value.carried.filter(({ mustUse }) => mustUse)
  expect(must.map(({ variety, pounds }) => [variety, pounds])).toEqual([
    ['Linden', 200],
    ['Cobbler', 400],
    ['Linden', 400],
  ])
})

it('a rule without an amount counts from nothing, and none goes below it', () => {
  const rules = [{ rule: 'budget' as const, isOn: true }]
  const by = (amount: number) => {
    const changed = withWhatIfs({ ...season, rules }, [{ kind: 'rule-by', rule: 'budget', by: amount }])
    return changed.ok ? changed.value.rules[0]?.amount : null
  }
  expect(by(700)).toBe(700)
  expect(by(-700)).toBe(0)
})

it('a price of one dealer moves only that dealer', () => {
  const dealer = season.quotes[0]?.dealer ?? ''
  const dearer = applied({ kind: 'price', dealer, percent: 100 })
  dearer.quotes.forEach((each, at) => {
    const times = each.dealer === dealer ? 2 : 1
    expect(each.packPriceCents).toBe((season.quotes[at]?.packPriceCents ?? 0) * times)
  })
})
