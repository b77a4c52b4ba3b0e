/** From one definition: what a row may be, what its table takes, what its sheet shows. */
import { expect, onTestFinished, test } from 'vitest'
import * as v from 'valibot'
import { columnsOf, pathOf, valueAt } from '../../../src-shared/sheet/columns.ts'
import { noteProperty, noun } from '../../../src-shared/sheet/noun.ts'
import { number, words } from '../../../src-shared/sheet/kind.ts'
import { oneOf } from '../../../src-shared/sheet/column.ts'
import { between, nameText } from '../../../src-shared/primitive.ts'
import { sheetNames, type SheetName } from '../../../src-shared/sheet/sheet.ts'
import { columns as tables } from '../../../src-main/engine/db/tables.ts'
import { shapes, stores } from '../../../src-main/engine/sheets/stores.ts'
import { newFarm } from '../../support/open-file.ts'

test('a noun is its schema and its columns', () => {
  const made = noun({
    name: { is: nameText, label: 'Shed', kind: words, heads: ['barn'] },
    field: { is: v.optional(nameText), label: 'Field', kind: ({ fields }) => oneOf(fields) },
    heightFt: { is: between(1, 90), label: 'Height', unit: 'ft', kind: number(), isStarted: true },
    ratings: {
      is: v.record(nameText, v.number()),
      cells: () => [{ id: 'ratings/rats', label: 'Rats', kind: number() }],
    },
    note: noteProperty,
  })
  expect(v.safeParse(made.schema, { name: 'Old', heightFt: 12, ratings: {} }).success).toBe(true)
  expect(v.safeParse(made.schema, { name: 'Old', heightFt: 0, ratings: {} }).success).toBe(false)
  const columns = made.columns({ threats: [], fields: ['Hill'] })
  expect(columns.map(({ id, isNeeded = false }) => [id, isNeeded])).toEqual([
    ['name', true],
    ['field', false],
    ['heightFt', false],
    ['ratings/rats', false],
    ['note', false],
  ])
  expect(columns[1]?.kind.choices).toEqual(['Hill'])
})

test.each(sheetNames)('every column of the sheet of a %s writes a property that its schema has', (sheet) => {
  const properties = Object.keys(stores[sheet].entries)
  for (const column of columnsOf(sheet, { threats: ['spotted wilt'] })) {
    expect(properties).toContain(pathOf(column).split('/')[0])
  }
})

interface Inside {
  type: string
  wrapped?: Inside
  options?: readonly string[]
  pipe?: readonly { type: string; requirement?: unknown }[]
}

/** Values at the ends of what a schema takes, and just beyond them. */
function endsOf(schema: Inside): { in: unknown[]; out: unknown[] } {
  const base = schema.wrapped ?? schema
  if (base.type === 'picklist') return { in: [...(base.options ?? [])], out: ['another word'] }
  const limit = (type: string) => base.pipe?.find((each) => each.type === type)?.requirement
  const isWhole = base.pipe?.some((each) => each.type === 'integer')
  const [low, high, above] = [limit('min_value'), limit('max_value'), limit('gt_value')] as (number | undefined)[]
  const longest = limit('max_length') as number | undefined
  if (base.type === 'string' && longest !== undefined)
    return { in: ['x'.repeat(longest)], out: ['x'.repeat(longest + 1)] }
  if (base.type !== 'number' || high === undefined) return { in: [], out: [] }
  const step = isWhole ? 1 : Math.max(1e-6, Math.abs(high) * 1e-9)
  const least = above !== undefined && above >= (low ?? above) ? above + step : (low ?? 0)
  return { in: [least, high], out: [least - 2 * step, high + 2 * step] }
}

/** Rows of the tables that a definition describes, put into a small farm by its store. */
const rows: { [Sheet in SheetName]?: Record<string, unknown> } = {
  window: { name: 'Extra', kind: 'late', opens: '06-01', closes: '06-10' },
  week: { starts: '05-04', plantingDays: 5 },
  machine: { name: 'Extra', kind: 'digger', count: 1, widthFt: 12, speedMph: 2, fieldEfficiency: 0.7, hoursPerDay: 9 },
  dealer: { name: 'Extra', orderFeeCents: 0, leastPounds: 0, breaks: [] },
  quote: {
    dealer: 'North Seed',
    variety: 'Cedar',
    name: 'extra',
    packPounds: 50,
    packPriceCents: 4000,
    leastPacks: 0,
    breaks: [],
    returnCredit: 0,
  },
  threat: { name: 'extra', kind: 'leaf' },
  contract: { name: 'Extra', perTonCents: 52_500, premiumCents: 0 },
  measure: { name: 'Extra', group: 'extra', centsPerAcre: 100, efficacy: {}, isPesticide: true },
  variety: {
    ...{ name: 'Extra', oilType: 'normal', seedsPerPound: 650, germination: 0.85, vine: 'medium', daysToMaturity: 140 },
    ...{ marketType: 'runner', yieldIndex: 1, gradeIndex: 1, ratings: {}, isTreated: true },
  },
  carried: { variety: 'Cedar', lot: 'extra', pounds: 100, mustUse: false, isOwnGrown: false },
  // The truck empty weighs no more than full: one at its end, so that the other can go to both of its own.
  load: { field: 'Hill', hauledOn: '2027-09-25', grossPounds: 1_000_000, tarePounds: 0 },
  seen: { field: 'Hill', threat: 'spotted wilt', level: 'low' },
  cost: { kind: 'other', says: 'Rent', cents: 100, perAcre: false },
}

test.each(Object.keys(rows) as (keyof typeof rows & keyof typeof shapes)[])(
  'the table of a %s takes what its schema takes, and refuses what that refuses',
  async (sheet) => {
    const { Writer } = await import('../../../src-main/engine/sheets/writer.ts')
    const { connection, seasonId } = newFarm()
    onTestFinished(() => void connection.exec('ROLLBACK'))
    connection.exec('BEGIN')
    const id = stores[sheet].insert(new Writer(connection, seasonId), rows[sheet]!)
    const { table, entries } = shapes[sheet] as { table: keyof typeof tables; entries: Record<string, v.GenericSchema> }
    const put = (column: string, value: unknown) =>
      connection.prepare(`UPDATE "${table}" SET "${column}" = ? WHERE id = ?`).run(value as never, id)
    let tried = 0
    for (const [property, schema] of Object.entries(entries)) {
      if (!(property in tables[table])) continue
      const before = connection.prepare(`SELECT "${property}" FROM "${table}" WHERE id = ?`).pluck().get(id)
      const ends = endsOf(schema as never)
      for (const value of ends.in) {
        expect(v.safeParse(schema, value).success, `${sheet}.${property} = ${String(value)}`).toBe(true)
        expect(() => put(property, value), `${sheet}.${property} = ${String(value)}`).not.toThrow()
        tried += 1
      }
      for (const value of ends.out) {
        expect(v.safeParse(schema, value).success, `${sheet}.${property} = ${String(value)}`).toBe(false)
        expect(() => put(property, value), `${sheet}.${property} = ${String(value)}`).toThrow(
          /CHECK|STRICT|cannot store/,
        )
        tried += 1
      }
      put(property, before)
    }
    expect(tried).toBeGreaterThan(2)
  },
)

test('a plain column more is its line and a migration: it is stored, listed, changed and shown', async () => {
  const { Writer } = await import('../../../src-main/engine/sheets/writer.ts')
  const { storeOf } = await import('../../../src-main/engine/sheets/shape.ts')
  const { listSheet } = await import('../../../src-main/engine/sheets/list-sheet.ts')
  const { connection, seasonId } = newFarm()
  const line = { fuelGallons: { is: v.optional(between(0, 90)), label: 'Fuel', unit: 'gal an hour', kind: number() } }
  const more = noun(line)
  connection.exec('ALTER TABLE machine ADD COLUMN fuelGallons REAL CHECK (fuelGallons BETWEEN 0 AND 90)')
  const shape = { ...shapes.machine, entries: { ...shapes.machine.entries, ...more.schema.entries } }
  const writer = new Writer(connection, seasonId)
  const store = storeOf(shape)
  const id = store.insert(writer, { ...rows.machine, fuelGallons: 7.5 })
  const listed = () => listSheet<{ fuelGallons?: number }>(connection, seasonId, shape).find((row) => row.id === id)
  expect(listed()?.fuelGallons).toBe(7.5)
  store.update(writer, id, 'fuelGallons', null, 9)
  expect(listed()?.fuelGallons).toBe(9)
  expect(store.plain?.value(writer, id, 'fuelGallons')).toBe(9)
  const [column] = more.columns({ threats: [] })
  expect(column?.kind.show(valueAt(listed()!, pathOf(column)))).toBe('9')
})
