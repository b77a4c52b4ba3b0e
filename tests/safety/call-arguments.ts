/** Arguments that a call takes, made from its own schema with the farm's ids and names: what a shape check lets through. */
import * as v from 'valibot'
import type { Random } from '../plan/random.ts'

/** Values of the farm at hand. */
export interface Pool {
  /** By the end of a key: `lotId` and `lines` find ids of lots and lines; `id` is looked up under the call's own noun. */
  ids: Record<string, number[]>
  names: string[]
  days: string[]
  /** By path, as `import.look/file` or `seconds`: values that no schema could lead to. */
  given: Record<string, unknown[]>
}

/** As far as it is read here: what kind a schema is, and what is in it. */
interface Shape {
  type: string
  entries?: Record<string, v.GenericSchema>
  item?: v.GenericSchema
  items?: v.GenericSchema[]
  wrapped?: v.GenericSchema
  options?: unknown[]
  literal?: unknown
  key?: v.GenericSchema
  value?: v.GenericSchema
  pipe?: unknown[]
}

const numbers = [
  0, 1, 2, 3, 0.5, 0.02, 0.1, 0.9, 1.5, 5, 7, 10, 20, 36, 50, 88, 120, 300, 650, 1000, 2000, 2027, 4000, 45_000, -1,
  1e6,
]
const words = [
  'a',
  'Amber 2',
  'as last year',
  'é “x” <b>&',
  'peanut',
  'cotton',
  "'; DROP TABLE lot; --",
  '=1+1',
  '07-04',
  '04-30',
  '2027-05',
  '2026-11',
]

/** One argument for a call; it may still be refused by what the schema checks as a whole. */
export function argumentFor(call: string, schema: v.GenericSchema, pool: Pool, chance: Random): unknown {
  const noun = call.split('.')[0] ?? ''
  return made(schema, call, '', 0)

  function made(given: v.GenericSchema, path: string, key: string, depth: number): unknown {
    const fixed = pool.given[path] ?? pool.given[`${call}/${key}`] ?? pool.given[key]
    if (fixed && fixed.length > 0 && chance.chance(0.9)) return chance.pick(fixed)
    const shape = given as unknown as Shape
    const inner = (next: v.GenericSchema, name = key) =>
      made(next, name === key ? path : `${path}/${name}`, name, depth + 1)
    switch (shape.type) {
      case 'strict_object':
      case 'object':
      case 'loose_object': {
        const out: Record<string, unknown> = {}
        for (const [name, entry] of Object.entries(shape.entries ?? {})) {
          const { type, wrapped } = entry as unknown as Shape
          if (type === 'optional' && wrapped && chance.chance(0.4)) continue
          out[name] = inner(entry, name)
        }
        return out
      }
      case 'optional':
      case 'nullable':
      case 'nullish':
        return shape.type !== 'optional' && chance.chance(0.3) ? null : inner(shape.wrapped as v.GenericSchema)
      case 'union':
      case 'variant':
        return inner(chance.pick(shape.options as v.GenericSchema[]))
      case 'picklist':
      case 'enum':
        return chance.pick(shape.options as unknown[])
      case 'literal':
        return shape.literal
      case 'boolean':
        return chance.chance(0.5)
      case 'null':
        return null
      case 'array':
        return Array.from({ length: chance.whole(depth < 3 ? 1 : 0, 3) }, () => inner(shape.item as v.GenericSchema))
      case 'tuple':
      case 'strict_tuple':
        return (shape.items ?? []).map((item) => inner(item))
      case 'record':
        return Object.fromEntries(
          Array.from({ length: chance.whole(0, 2) }, () => [
            inner(shape.key as v.GenericSchema, 'name'),
            inner(shape.value as v.GenericSchema, 'value'),
          ]),
        )
      case 'number':
        return leaf(given, [...idsFor(key), ...numbers], idsFor(key))
      case 'string':
        return leaf(
          given,
          [...pool.names, ...pool.days, ...words],
          /(On|today|Day|By|from|until)$/i.test(key) ? pool.days : pool.names,
        )
      default:
        return chance.pick([...numbers, ...words, null])
    }
  }

  /** A value that the schema takes, of the likeliest where one is. */
  function leaf(given: v.GenericSchema, all: readonly unknown[], likely: readonly unknown[]): unknown {
    const fits = (values: readonly unknown[]) => values.filter((value) => v.is(given, value))
    const near = fits(likely)
    if (near.length > 0 && chance.chance(0.85)) return chance.pick(near)
    const any = fits(all)
    return any.length > 0 ? chance.pick(any) : chance.pick([...all])
  }

  function idsFor(key: string): number[] {
    if (key === 'id' || key === 'a' || key === 'b') return pool.ids[noun] ?? []
    return pool.ids[key.replace(/Id$/, '')] ?? []
  }
}
