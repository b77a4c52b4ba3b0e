/**
 * Explain a number: every line of every option's working is worked out again here from its terms, with arithmetic of
 * this file's own, and what comes out is what `buildOptions` says. On the demo farm and on one with every odd case.
 * Long because it has every formula once more.
 */
import { describe, expect, it } from 'vitest'
import { contextOf, type Context } from '../../../src-shared/agronomy/context.ts'
import { explain, type Working } from '../../../src-shared/agronomy/explain.ts'
import { buildOptions, type Option } from '../../../src-shared/agronomy/option.ts'
import { numberText, type WorkingLine } from '../../../src-shared/agronomy/working.ts'
import type { Assumption } from '../../../src-shared/assumption.ts'
import type { Season } from '../../../src-shared/season.ts'
import { sampled } from '../../support/sampled.ts'
import { demoFarm, pick } from '../demo-farm.ts'

/** A line again, from its terms alone. */
function again({ rule, terms, value }: WorkingLine): number {
  const numbers = terms.map((each) => each.value)
  const [a = NaN, b = NaN, c = NaN, d = NaN, e = NaN] = numbers
  const product = (list: number[]) => list.reduce((all, each) => all * each, 1)
  const hold = (low: number, high: number, number: number) => Math.min(high, Math.max(low, number))
  switch (rule) {
    case 'product':
      return product(numbers)
    case 'sum':
      return numbers.reduce((all, each) => all + each, 0)
    case 'over the last':
      return product(numbers.slice(0, -1)) / (numbers.at(-1) ?? NaN)
    case 'together':
      return 1 - product(numbers.map((each) => 1 - each))
    case 'shortfall':
      return Math.max(0, a - b) * c
    case 'mean by weight': {
      let [money, weight] = [0, 0]
      numbers.forEach((number, n) => (n % 2 === 0 ? (money += number * (numbers[n + 1] ?? NaN)) : (weight += number)))
      return money / weight
    }
    case 'extra hours':
      return (a - b) * c
    case 'emergence':
      return hold(0.05, 1, a * (b - c * (d - e)))
    case 'stand factor':
      return Math.max(0, 1 + a * (b - hold(d, e, c)))
    case 'odds': {
      const held = Math.min(0.98, a)
      const odds = (held / (1 - held)) * product(numbers.slice(1))
      return odds === 0 ? 0 : 1 / (1 + 1 / odds)
    }
    case 'through points': {
      const points = Array.from({ length: (numbers.length - 1) / 2 }, (_, n) => [
        numbers[1 + 2 * n]!,
        numbers[2 + 2 * n]!,
      ])
      const after = points.findIndex(([x]) => x! >= a)
      if (after <= 0) return points.at(after)![1]!
      const [[x0, y0], [x1, y1]] = [points[after - 1]!, points[after]!]
      return y0! + ((a - x0!) / (x1! - x0!)) * (y1! - y0!)
    }
    case 'three years':
      return (a + 4 * b + c) / 6
    case 'canopy loss':
      return a <= b ? 0 : Math.min(1, c * ((a - b) / (1 - b)) ** d)
    case 'by leaves taken':
      return b === 0 ? 0 : 1 - Math.exp((Math.log(1 - a) * Math.log(1 - b)) / Math.log(1 - c))
    case 'days to ripen':
      return a - b * c
    case 'cool days':
      return a <= b ? a : b + (a - b) / c
    case 'off the best day':
      return 1 - (a < 0 ? b : c) * a * a
    case 'days past':
      return Math.max(0, a - (b - c))
    case 'days off':
      return Math.max(0, 1 - a * b) * Math.max(0, 1 - c * d)
    case 'shortfall over':
      return Math.max(0, a - b) / c
    case 'over':
      return a / product(numbers.slice(1))
    case 'left':
      return product(numbers.map((each) => 1 - each))
    case 'signal share':
      return a ** 2 / (a ** 2 + (b ** 2 + c ** 2) / d)
    case 'drawn to 1':
      return 1 - b + a * b
    case 'kept in proportion':
      return (a * (1 - b)) / (1 - c)
    case 'drop for a stand':
      // From the other end: the drop that it says leaves the stand that is wanted.
      return Math.abs(value * b * (c - d * (value - e)) - a) < 1e-9 ? value : NaN
  }
}

function working(
  context: Context,
  option: Pick<Option, 'field' | 'variety' | 'window' | 'programme'> & { seedsPerFoot?: number },
): Working {
  const found = explain(context, option)
  if (!found.ok) throw new Error(JSON.stringify(found.problems))
  return found.value
}

function lineOf({ lines }: Working, id: string): WorkingLine {
  return pick(lines, (line) => line.id === id)
}

/** Equal but for the order in which a product was taken. */
function same(a: number, b: number, what: string): void {
  expect(Math.abs(a - b), `${what}: ${a} and ${b}`).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(a), Math.abs(b)))
}

const own = (key: string, value: number): Assumption => ({ key, value, unit: '', source: 'x', sourceKind: 'the farm' })

/** The demo farm with a threat of its own, drops of every kind, no history, no machines of a kind, everything changed. */
function oddFarm(): Season {
  const farm = demoFarm()
  return {
    ...farm,
    threats: [...farm.threats, { name: 'Pod rot', kind: 'soil' }, { name: 'Rust', kind: 'leaf' }],
    machines: [
      ...farm.machines.filter((machine) => machine.kind !== 'planter'),
      ...farm.machines
        .filter((m) => m.kind === 'digger')
        .map((m) => ({ ...m, name: 'Old digger', count: 1, widthFt: 12 })),
    ],
    fields: farm.fields.slice(0, 8).map((field, f) => ({
      ...field,
      windows: [],
      history: f === 0 ? [] : field.history,
      drop:
        f % 3 === 0
          ? { kind: 'fixed' as const, seedsPerFoot: 5 }
          : f % 3 === 1
            ? { kind: 'stand' as const, plantsPerFoot: 3.5 }
            : undefined,
      pressure: {
        ...field.pressure,
        'Pod rot': f % 2 === 0 ? ('high' as const) : ('none' as const),
        Rust: 'severe' as const,
      },
    })),
    varieties: farm.varieties.map(({ ratings: { 'spotted wilt': _, ...ratings }, ...variety }) => ({
      ...variety,
      ratings,
    })),
    rules: farm.rules.filter((rule) => !['choose-rate', 'early-rating', 'early-twin-rows'].includes(rule.rule)),
    assumptions: [
      own('emergence/falls per seed', 0.04),
      own('threat/Pod rot/loss/high', 0.2),
      own('threat/Pod rot/per missing plant/single', -0.3),
      own('threat/Rust/loss/severe', 0.9),
      own('threat/Rust/share/5', 0.7),
      own('threat/Rust/window/late', 4),
      own('vine/growth regulator/yield gain', 300),
      own('price/peanuts', 480),
    ],
  }
}

describe.each([
  ['the demo farm', demoFarm()],
  ['a farm with every odd case', oddFarm()],
])('%s', (_name, season) => {
  const context = contextOf(season)
  const built = buildOptions(context)
  const { excluded } = built
  // Weeks made them thousands: a part, drawn by the commit.
  const options = sampled(`explained ${built.options.length}`, built.options, 1500)

  it('has options to explain', () => {
    expect(options.length).toBeGreaterThan(500)
  })

  it('every line adds up from its terms', () => {
    for (const option of options) {
      for (const line of working(context, option).lines) same(again(line), line.value, `${line.id} of ${line.formula}`)
    }
  })

  it('what comes out is what the option says', () => {
    for (const option of options) {
      const found = working(context, option)
      const value = (id: string) => lineOf(found, id).value
      same(value('drop'), option.seedsPerFoot, 'drop')
      same(value('stand'), option.stand, 'stand')
      same(value('seed pounds'), option.seedPoundsPerAcre, 'seed pounds')
      season.threats.forEach((threat, t) => same(value(`loss/${threat.name}`), option.losses[t] as number, threat.name))
      same(value('loss'), option.lossShare, 'loss')
      same(value('loss dollars') * 100, option.lossCents, 'loss dollars')
      same(value('vine') * 100, option.vineCents, 'vine')
      same(value('give-up') * 100, option.giveUpCents, 'give-up')
      same(value('could dollars') * 100, option.couldCents, 'could')
      same(value('yield'), option.yieldLb, 'yield')
      same(value('cash') * 100, option.cashCents, 'cash')
      same(value('planter hours'), option.planterHours, 'planter hours')
      same(value('digger hours'), option.diggerHours, 'digger hours')
      same(value('combine hours'), option.combineHours, 'combine hours')
      expect(found.harvest.ripe).toBe(option.ripe)
      expect(found.reasons).toEqual([])
    }
  })

  it('an excluded one gives the same reasons, all of them', () => {
    for (const out of excluded) expect(working(context, out).reasons).toEqual(out.reasons)
  })

  it('a term from the book has its value, unit and source; ids are told apart', () => {
    const seen = new Set(options.filter((_, i) => i % 17 === 0).map((option) => working(context, option)))
    for (const { lines } of seen) {
      expect(new Set(lines.map((line) => line.id)).size).toBe(lines.length)
      for (const term of lines.flatMap((line) => line.terms)) {
        if (term.key === undefined) continue
        const row = context.book.row(term.key)
        expect(term.source).toBe(row.source)
        if (term.key.endsWith('/slowing')) expect(term.value).toBe(1 + Number(row.value))
        else if (term.key.endsWith('/usual control')) expect(term.value).toBe(1 - Number(row.value))
        // A day of the year; an action that is left off is not paid.
        else if (term.key.startsWith('date/best') || term.name.includes('left off')) continue
        else expect(term.value).toBe(row.value)
      }
    }
  })

  it('a later line starts from what an earlier one gave', () => {
    const found = working(context, pick(options))
    const given = (line: string, name: string) => pick(lineOf(found, line).terms, (each) => each.name === name).value
    expect(given('seeds', 'drop')).toBe(lineOf(found, 'drop').value)
    expect(given('seed pounds', 'seeds an acre')).toBe(lineOf(found, 'seeds').value)
    expect(given('yield before', 'what the ground could make')).toBe(lineOf(found, 'attainable').value)
    expect(given('yield before', 'stand')).toBe(lineOf(found, 'stand share').value)
    expect(given('yield before', 'planting date')).toBe(lineOf(found, 'date share').value)
    expect(given('yield left', 'yield before')).toBe(lineOf(found, 'yield before').value)
    expect(given('loss dollars', 'lost')).toBe(lineOf(found, 'loss').value)
    expect(given('loss dollars', 'what the crop would bring')).toBeCloseTo(lineOf(found, 'crop dollars').value, 9)
    for (const threat of season.threats)
      expect(given('loss', threat.name)).toBe(lineOf(found, `loss/${threat.name}`).value)
  })
})

describe('reasons', () => {
  it('every one is said, not only the first', () => {
    const farm = demoFarm()
    const single = pick(farm.fields, (field) => field.rowPattern === 'single' && field.windows.length === 0)
    const weak = pick(farm.varieties, (variety) => (variety.ratings['spotted wilt'] ?? 9) > 4)
    const early = pick(farm.windows, (window) => window.kind === 'early')
    const rules = [
      ...farm.rules,
      { rule: 'largest-loss' as const, subject: 'late leaf spot', amount: 0.01, isOn: true },
    ]
    const field = { ...single, nematodesPer100cc: 50 }
    const context = contextOf({ ...farm, fields: [field], rules })
    const { reasons } = working(context, { field: field.name, variety: weak.name, window: early.name, programme: [] })
    const words = [
      'spotted wilt',
      'twin rows',
      'uses fungicide',
      'asks for in-furrow insecticide',
      '50 nematodes',
      'to late leaf spot',
    ]
    for (const word of words) expect(reasons.filter((reason) => reason.includes(word))).toHaveLength(1)
  })

  it('a nematode count over the threshold forbids also on a farm that names its nematode otherwise', () => {
    const farm = demoFarm()
    const rules = farm.rules.filter((rule) => rule.rule === 'nematode-threshold')
    const threats = [{ name: 'Root-knot', kind: 'nematode' as const }]
    const field = { ...pick(farm.fields), pressure: {}, nematodesPer100cc: 10, windows: [] }
    const [open, resistant] = [9, 3].map((rating, r) => ({
      ...pick(farm.varieties),
      name: `V${r}`,
      ratings: { 'Root-knot': rating },
    }))
    const measures = [{ ...pick(farm.measures), name: 'Drench', group: 'nematicide', efficacy: { 'Root-knot': 0.4 } }]
    if (!open || !resistant) throw new Error('Two varieties are wanted.')
    const context = contextOf({ ...farm, rules, threats, measures, fields: [field], varieties: [open, resistant] })
    const reasons = (variety: string, programme: string[]) =>
      working(context, { field: field.name, variety, window: 'Usual', programme }).reasons
    expect(reasons('V0', [])).toEqual(['10 nematodes per 100 cc ask for a variety rated 3 or better, or a nematicide.'])
    expect(reasons('V0', ['Drench'])).toEqual([])
    expect(reasons('V1', [])).toEqual([])
  })

  it('a stand that no drop leaves is one of them', () => {
    const farm = demoFarm()
    const rules = [{ rule: 'early-stand' as const, amount: 7, isOn: true }]
    const context = contextOf({ ...farm, rules, assumptions: [own('emergence/falls per seed', 0.085)] })
    const { excluded, options } = buildOptions(context)
    expect(options.some((option) => option.window === 'Early')).toBe(false)
    expect(pick(excluded, (each) => each.window === 'Early').reasons[0]).toMatch(
      /^An early window asks for 7 plants a foot; no drop leaves more than \d\.\d\d\.$/,
    )
  })

  it('a window that the field is not planted in is one', () => {
    const farm = demoFarm()
    const field = pick(farm.fields, (each) => each.windows.length > 0 && !each.windows.includes('Early'))
    const { reasons } = working(contextOf({ ...farm, rules: [] }), {
      field: field.name,
      variety: pick(farm.varieties).name,
      window: 'Early',
      programme: [],
    })
    expect(reasons).toEqual([`${field.name} is planted only in: ${field.windows.join(', ')}.`])
  })
})

it('names that are not there come back as a problem each', () => {
  const found = explain(contextOf(demoFarm()), {
    field: 'Nowhere',
    variety: 'Brindle',
    window: 'Never',
    programme: ['Hope'],
  })
  expect(found.ok ? [] : found.problems.map((problem) => problem.where?.name)).toEqual(['Nowhere', 'Never', 'Hope'])
})

it('formulas have the numbers in', () => {
  const farm = demoFarm()
  // At the house's own rate.
  const context = contextOf({ ...farm, rules: farm.rules.filter(({ rule }) => rule !== 'choose-rate') })
  const option = pick(
    buildOptions(context).options,
    (each) => each.field === 'Alder Forty' && each.variety === 'Brindle' && each.seedsPerFoot === 6,
  )
  const found = working(context, option)
  // 36 in rows, 6 seeds a foot, 690 seeds a pound: 14,520 ft, 87,120 seeds, 126.3 lb.
  expect(lineOf(found, 'row feet').formula).toBe('43,560 × 12 / 36 = 14,520 ft/acre')
  expect(lineOf(found, 'seed pounds').formula).toBe('87,120 / 690 = 126.3 lb/acre')
  expect(lineOf(found, 'emergence').formula).toBe('0.87 × (0.83 − 0 × (6 − 6)) = 0.7221 share')
})

it.each([
  [0, '0'],
  [1234.6, '1,235'],
  [0.0010545, '0.001055'],
  [-8, '−8'],
  [-1200, '−1,200'],
  [134.0307, '134'],
])('%s is shown as %s', (value, text) => {
  expect(numberText(value)).toBe(text)
})
