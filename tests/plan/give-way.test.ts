/**
 * What a clash says would settle it does: for each clashing rule with a change to the season, the changed season is
 * solved and has a plan. And every rule in force can be asked away, and is then in force no more.
 */
import { expect, test } from 'vitest'
import { withWhatIfs } from '../../src-shared/apply-what-if.ts'
import { giveWay, settles, waysToSettle } from '../../src-shared/give-way.ts'
import type { Rule } from '../../src-shared/rule.ts'
import type { Season } from '../../src-shared/season.ts'
import { sayWhatIf, type WhatIf } from '../../src-shared/what-if.ts'
import { rulesOf } from '../../src-main/engine/rules-in-force.ts'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import { demoFarm } from '../shared/demo-farm.ts'
import { smallSeason } from '../support/open-file.ts'

const quick = { gap: 0.2, seconds: 20 }

function withRules(season: Season, ...rules: Omit<Rule, 'isOn'>[]): Season {
  const others = season.rules.filter((old) => !rules.some((rule) => rule.rule === old.rule))
  return { ...season, rules: [...others, ...rules.map((rule) => ({ ...rule, isOn: true }))] }
}

function changed(season: Season, whatIf: WhatIf): Season {
  const result = withWhatIfs(season, [whatIf])
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.value
}

const small = smallSeason()
const free = { ...small, locks: [], exclusions: [], carried: [] }

/** Each clash, and the kinds of change that must be among what settles it. */
const clashes: Record<string, [Season, WhatIf['kind'][]]> = {
  'a budget that buys nothing': [withRules(free, { rule: 'budget', amount: 100_000 }), ['rule-by']],
  'more varieties than are allowed': [
    withRules(free, { rule: 'fewest-varieties', amount: 3 }, { rule: 'most-varieties', amount: 2 }),
    ['rule-by', 'rule-by'],
  ],
  'a lock on what is kept off': [
    { ...free, locks: [{ field: 'Hill', variety: 'Amber' }], exclusions: [{ field: 'Hill', variety: 'Amber' }] },
    ['unlock', 'allow'],
  ],
  'a contract larger than the share allows': [
    withRules(
      free,
      { rule: 'contract', subject: 'high oleic', amount: 150 },
      { rule: 'largest-share', subject: 'Amber', amount: 0.5 },
    ),
    ['rule-by', 'share'],
  ],
  'a general share that one variety cannot fill': [
    withRules(
      { ...free, exclusions: [{ variety: 'Bison' }, { variety: 'Cedar' }] },
      { rule: 'largest-share', amount: 0.4 },
    ),
    ['share'],
  ],
  'a lock on a variety of which there is too little': [
    {
      ...free,
      locks: [{ field: 'Creek Bottom', variety: 'Cedar' }],
      quotes: free.quotes.map((quote) => (quote.variety === 'Cedar' ? { ...quote, availablePacks: 10 } : quote)),
    },
    ['packs', 'unlock'],
  ],
  'a dealer who cannot bring enough': [
    {
      ...free,
      dealers: free.dealers.map((dealer) => (dealer.name === 'North Seed' ? { ...dealer, mostPounds: 2000 } : dealer)),
      exclusions: [{ variety: 'Bison' }],
    },
    ['delivers', 'allow'],
  ],
  'seed on hand for which there is no ground': [
    {
      ...free,
      carried: [{ variety: 'Cedar', pounds: 30_000, mustUse: true, isOwnGrown: false }],
    },
    ['may-stay'],
  ],
  'planters that are too slow': [
    withRules(
      {
        ...free,
        machines: free.machines.map((machine) => ({ ...machine, hoursPerDay: machine.kind === 'planter' ? 1 : 9 })),
      },
      { rule: 'planter-hours' },
    ),
    ['longer-days'],
  ],
  'combines that are too slow': [
    withRules(
      {
        ...free,
        machines: free.machines.map((machine) => ({ ...machine, hoursPerDay: machine.kind === 'combine' ? 0.5 : 10 })),
      },
      { rule: 'combine-hours' },
    ),
    ['longer-days'],
  ],
}

test.each(Object.entries(clashes))('%s: each change that is offered settles it', async (_name, [season, kinds]) => {
  const solved = await solvePlan(season, quick)
  if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
  const conflict = solved.value.proof.conflict
  expect(conflict?.rules.length, JSON.stringify(conflict)).toBeGreaterThan(0)
  const offered = (conflict?.rules ?? []).map((rule) => settles(season, rule)).filter((whatIf) => whatIf !== null)
  const found = offered.map((whatIf) => whatIf.kind)
  for (const kind of new Set(kinds)) expect(found, JSON.stringify(conflict)).toContain(kind)
  for (const whatIf of offered) {
    const again = await solvePlan(changed(season, whatIf), quick)
    expect(again.ok && again.value.plan, sayWhatIf(whatIf, season.rules)).toBeTruthy()
  }
})

test.each([
  ['the small season', withRules(small, { rule: 'planter-hours' }, { rule: 'combine-hours' })],
  ['the demo', demoFarm()],
])('%s: every rule in force can be asked away', (_name, season) => {
  const rules = rulesOf(season)
  expect(rules.length).toBeGreaterThan(5)
  expect(new Set(rules.map(({ rule }) => rule)).size).toBe(rules.length)
  for (const { rule, says, without, withoutSays } of rules) {
    expect(says).toMatch(/\.$/)
    expect(without, rule).not.toBeNull()
    expect(withoutSays).toMatch(/\.$/)
    expect(withoutSays).not.toContain('set amount')
    const after = rulesOf(changed(season, without as WhatIf)).map((each) => each.rule)
    expect(after, withoutSays).not.toContain(rule)
  }
})

test('a rule that the season does not have is not asked away', () => {
  for (const id of ['largest-total-loss', 'planted/Hill/', 'lock/Hill/Bison', 'contract/runner', 'nonsense', '']) {
    expect(giveWay(small, id, null), id).toBeNull()
  }
})

test('longer days never go beyond the day', () => {
  const season = { ...small, machines: small.machines.map((machine) => ({ ...machine, hoursPerDay: 20 })) }
  // One planter, and five days a week but in the week in which the windows close: a day of it is left.
  const fewest = (5 * 4) / 7
  expect(giveWay(season, 'planter-hours', 4 * fewest)).toEqual({ kind: 'longer-days', machine: 'planter', hours: 4 })
  expect(giveWay(season, 'planter-hours', 4 * fewest + 0.2)).toBeNull()
})

test('only so much of the seed on hand may stay: what must be used is that much less, what there is stays', () => {
  const whatIf: WhatIf = { kind: 'may-stay', variety: 'Cedar', pounds: 150 }
  expect(sayWhatIf(whatIf)).toBe('150 pounds of Cedar on hand may stay unused.')
  expect(changed(small, whatIf).carried.map(({ pounds, mustUse }) => [pounds, mustUse])).toEqual([
    [450, true],
    [150, false],
  ])
  expect(changed(small, { ...whatIf, pounds: 600 }).carried.map(({ mustUse }) => mustUse)).toEqual([false])
})

test('nothing is asked of a window or week that gives no hours, nor of a rule that settles nothing', () => {
  expect(giveWay(small, 'planter-hours/Nowhere', 5)).toBeNull()
  const rule = { id: 'planter-hours', says: '', unit: 'hours', amount: 1, settles: false, remedy: '' }
  const conflict = { rules: [rule, { ...rule, settles: true }], isMinimal: true, says: '', seconds: 0 }
  expect(waysToSettle(small, conflict).map(({ whatIf }) => whatIf.kind)).toEqual(['longer-days'])
  expect(waysToSettle(small, undefined)).toEqual([])
})

test('a contract of no oil type is asked away by its own name', () => {
  const season = withRules(small, { rule: 'contract', amount: 50 })
  expect(giveWay(season, 'contract/', null)).toEqual({ kind: 'rule-off', rule: 'contract' })
})
