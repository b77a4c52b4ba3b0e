/** What-ifs: each changes what it says and nothing else, leaves the season alone, and names what is not there. */
import { expect, it, test } from 'vitest'
import * as v from 'valibot'
import { draftSeason, draftSettingsSchema, sayDraft } from '../../src-shared/draft.ts'
import type { Season } from '../../src-shared/season.ts'
import { withWhatIfs } from '../../src-shared/apply-what-if.ts'
import { sayWhatIf, whatIfSchema, type WhatIf } from '../../src-shared/what-if.ts'
import { changesBetween } from '../../src-main/engine/plan/changes.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
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
  [{ kind: 'rule-off', rule: 'most-varieties' }, 'Without the rule: Plant no more than the set amount varieties.', 1],
  [{ kind: 'rule-on', rule: 'budget' }, 'With the rule: Spend no more than the set amount on seed and measures.', 1],
  [
    { kind: 'rule-by', rule: 'contract', subject: 'high oleic', by: -50 },
    'Plant at least the set amount of high oleic. By 50 acres less.',
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
  const about = Object.values(whatIf).filter((part) => typeof part === 'string' && part !== whatIf.kind)
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
