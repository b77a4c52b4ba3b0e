/** What a row bears on, compared with the workings of every option there is, and with what a change of the row changes. */
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { explain } from '../../../src-shared/agronomy/explain.ts'
import { isPlantedIn } from '../../../src-shared/agronomy/ground.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import type { Assumption } from '../../../src-shared/assumption.ts'
import { bearsOn } from '../../../src-shared/book/bears-on.ts'
import { bearingOf } from '../../../src-shared/book/ledger.ts'
import type { Season } from '../../../src-shared/season.ts'
import { demoFarm } from '../demo-farm.ts'
import { set } from './set-row.ts'

const whole = demoFarm()
/** Its fields that are planned. */
const farm = { ...whole, fields: whole.fields.filter(({ rests }) => !rests) }

/** Everything that has the key among its terms, in any option there could be. */
function traced(season: Season): Map<string, { fields: Set<string>; varieties: Set<string> }> {
  const context = contextOf(season)
  const found = new Map<string, { fields: Set<string>; varieties: Set<string> }>()
  for (const field of season.fields) {
    for (const variety of season.varieties) {
      for (const window of season.windows.filter((each) => isPlantedIn(field, each))) {
        const working = explain(context, {
          field: field.name,
          variety: variety.name,
          window: window.name,
          programme: [],
        })
        if (!working.ok) throw new Error(JSON.stringify(working.problems))
        // A loss that is nothing is not borne on by its factors, nor slower hours by none.
        const lines = working.value.lines.filter(
          (line) => (line.value !== 0 || /^(date|dig)/.test(line.id)) && line.rule !== 'stand factor',
        )
        for (const { key } of lines.flatMap((line) => line.terms)) {
          if (key === undefined) continue
          const own = found.get(key) ?? { fields: new Set(), varieties: new Set() }
          own.fields.add(field.name)
          own.varieties.add(variety.name)
          found.set(key, own)
        }
      }
    }
  }
  return found
}

describe('what a row bears on', () => {
  const own = (key: string, value: number): Assumption => ({
    key,
    value,
    unit: '×',
    source: '',
    sourceKind: 'the farm',
  })
  const odd: Season = {
    ...farm,
    threats: [...farm.threats, { name: 'Pod rot', kind: 'soil' }],
    fields: farm.fields.map((field, f) => ({
      ...field,
      pressure: { ...field.pressure, 'Pod rot': f < 4 ? ('high' as const) : ('none' as const) },
    })),
    assumptions: [
      own('threat/Pod rot/loss/high', 0.1),
      own('threat/Pod rot/rows/twin', 2),
      own('vine/growth regulator/yield gain', 100),
    ],
  }
  // Their effect is no term of a line of its own, or lies outside an option.
  const apart =
    /^(reserve|germination|harvest|planting|calendar|stand|drop|emergence|rating|rate|replant|tag|usual|cost|trial)\/|^rotation\/trial\/|^ripening\/(usual|counts|cool from)|count from|per missing plant|\/slowing$|\/cost$|\/action$|yield gain$/

  it.each([
    ['the demo farm', farm],
    ['a farm with a threat of its own', odd],
  ])('%s: is what the workings of all options say', (_name, season) => {
    const context = contextOf(season)
    const trace = traced(season)
    const order = (names: readonly { name: string }[], found?: Set<string>) =>
      names.map((each) => each.name).filter((name) => found?.has(name))
    const keys = [...context.book.rows.keys()].filter((key) => !apart.test(key))
    expect(keys.length).toBeGreaterThan(100)
    for (const key of keys) {
      const expected = {
        fields: order(season.fields, trace.get(key)?.fields),
        varieties: order(season.varieties, trace.get(key)?.varieties),
      }
      const { fields, varieties } = bearsOn(context, key)
      expect({ key, fields, varieties }).toEqual({ key, ...expected })
    }
  })

  it('changing a row changes only what it bears on', () => {
    for (const [key, value] of [
      ['threat/spotted wilt/loss/high', 0.25],
      ['rotation/dryland/1', 0.8],
      ['share/4', 0.45],
      ['vine/large/usual/digging loss', 0.1],
      ['threat/root-knot nematode/years out/1', 3],
      ['emergence/field/single', 0.7],
      ['stand/reference', 5],
      ['harvest/digger hour', 300],
      ['vine/growth regulator/yield gain', 300],
      ['vine/large/usual/slowing', 0.5],
      ['vine/large/usual/cost', -50],
    ] as const) {
      const plain = { ...farm, rules: [], measures: [] }
      const priced = (season: Season) =>
        new Map(buildOptions(contextOf(season)).options.map((o) => [JSON.stringify([o.field, o.variety, o.window]), o]))
      const [before, after] = [priced(plain), priced(set(plain, key, value))]
      const changed = [...after].filter(([name, option]) => JSON.stringify(before.get(name)) !== JSON.stringify(option))
      const bearing = bearingOf(plain, key)
      expect(changed.length, key).toBeGreaterThan(0)
      expect(new Set(changed.map(([, option]) => option.field)), key).toEqual(new Set(bearing.fields))
      expect(new Set(changed.map(([, option]) => option.variety)), key).toEqual(new Set(bearing.varieties))
    }
  })

  it('nothing is felt on ground that rests', () => {
    expect(whole.fields.length).toBeGreaterThan(farm.fields.length)
    expect(bearingOf(whole, 'cost/everything else').fields).toEqual(farm.fields.map(({ name }) => name))
  })

  it('names threats, and what the row itself says', () => {
    expect(bearingOf(farm, 'share/4').threats.length).toBeGreaterThan(1)
    expect(bearingOf(farm, 'threat/spotted wilt/loss/high')).toMatchObject({
      threats: ['spotted wilt'],
      affects: 'Loss to spotted wilt where the pressure is high.',
    })
    expect(bearingOf(farm, 'vine/large/rank/leaf disease').threats).toEqual(['early leaf spot', 'late leaf spot'])
  })

  it('the house drop reaches fields with a drop of their own only where emergence falls with it', () => {
    const drop = { kind: 'fixed' as const, seedsPerFoot: 5 }
    const single = farm.fields.filter((field) => field.rowPattern === 'single')
    const season = { ...farm, fields: single.map((field, f) => (f === 0 ? { ...field, drop } : field)) }
    expect(bearingOf(season, 'drop/seeds per foot/single').fields).toHaveLength(single.length - 1)
    const falling = set(season, 'emergence/falls per seed', 0.03)
    expect(bearingOf(falling, 'drop/seeds per foot/single').fields).toHaveLength(single.length)
    expect(bearingOf(season, 'drop/seeds per foot/twin')).toEqual({
      ...bearingOf(season, 'drop/seeds per foot/twin'),
      fields: [],
      varieties: [],
    })
  })

  it('what counts as resistant, and what an unrated variety counts as', () => {
    const counted = farm.fields.filter((field) => (field.nematodesPer100cc ?? 0) >= 10).map((field) => field.name)
    expect(bearingOf(farm, 'rating/resistant')).toMatchObject({ fields: counted, threats: ['root-knot nematode'] })
    expect(bearingOf({ ...farm, rules: [] }, 'rating/resistant').fields).toEqual([])
    expect(bearingOf(farm, 'rating/unrated').varieties).toEqual([])
    const [first, ...others] = farm.varieties
    if (!first) throw new Error('The demo has no variety.')
    const { 'spotted wilt': _, ...ratings } = first.ratings
    const season = { ...farm, varieties: [{ ...first, ratings }, ...others] }
    expect(bearingOf(season, 'rating/unrated')).toMatchObject({ varieties: [first.name], threats: ['spotted wilt'] })
    const losses = (of: Season) => buildOptions(contextOf(of)).options.map((option) => option.lossCents)
    expect(losses(set(season, 'rating/unrated', 1))).not.toEqual(losses(season))
  })

  it('rows of spring and of machines bear on what they are read for', () => {
    const all = farm.varieties.length
    const fields = (key: string, of = farm) => bearingOf(of, key).fields.length
    const single = farm.fields.filter(({ rowPattern }) => rowPattern === 'single').length
    expect(single).toBeGreaterThan(0)
    expect(fields('rate/least stand')).toBe(farm.fields.length)
    expect(fields('replant/work')).toBe(farm.fields.length)
    expect(fields('stand/yield/single/2')).toBe(single)
    for (const key of ['tag/least germination', 'germination/warn below']) {
      expect(bearingOf(farm, key), key).toMatchObject({ fields: [], threats: [] })
      expect(bearingOf(farm, key).varieties, key).toHaveLength(all)
    }
    expect(fields('harvest/days from digging to combining')).toBe(farm.fields.length)
    expect(fields('harvest/days from digging to combining', { ...farm, rules: [] })).toBe(0)
    expect(fields('harvest/combine hour')).toBeGreaterThan(0)
    const withoutMachines = { ...farm, machines: [] }
    for (const key of ['harvest/combine hour', 'harvest/digger hour', 'harvest/days from digging to combining']) {
      expect(fields(key, withoutMachines), key).toBe(0)
    }
  })

  it('a field that was not sampled counts no nematodes, and ground without leaf disease none of a vine’s', () => {
    const unsampled = { ...farm, fields: farm.fields.map(({ nematodesPer100cc: _, ...field }) => field) }
    expect(bearingOf(unsampled, 'rating/resistant')).toMatchObject({ fields: [], varieties: [], threats: [] })
    expect(bearingOf({ ...farm, varieties: [] }, 'vine/large/rank/leaf disease').threats).toEqual([])
    const newGround = { ...farm, fields: farm.fields.map((field) => ({ ...field, history: [] })) }
    expect(bearingOf(newGround, 'threat/root-knot nematode/years out/1').fields).toEqual([])
  })

  it('rows that nothing in the season uses bear on nothing', () => {
    expect(bearingOf(farm, 'reserve/short pound').varieties).toEqual([])
    const chance = { ...farm, rules: [...farm.rules, { rule: 'reserve-by-chance' as const, isOn: true }] }
    expect(bearingOf(chance, 'reserve/short pound').varieties).toHaveLength(farm.varieties.length)
    expect(bearingOf({ ...farm, rules: [] }, 'drop/step').fields).toEqual([])
    expect(bearingOf({ ...farm, rules: [] }, 'harvest/fit days a week').fields).toEqual([])
    expect(bearingOf(farm, 'harvest/fit days a week').fields).toHaveLength(farm.fields.length)
    // The demo's fields have a pressure of their own, so no soil count is read.
    expect(bearingOf(farm, 'threat/root-knot nematode/count from/high').fields).toEqual([])
    const counted = { ...farm, fields: farm.fields.map((field) => ({ ...field, pressure: {} })) }
    expect(bearingOf(counted, 'threat/root-knot nematode/count from/high').fields).toHaveLength(farm.fields.length)
  })
})
