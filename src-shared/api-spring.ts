/** The calls of spring: deliveries, lots and their tags, rates, plantings, stands, trace. Part of the contract in `api.ts`. */
import * as v from 'valibot'
import { change, id, is, nothing, planned, read, task } from './api-call.ts'
import { deliverySchema, promiseSchema, type DeliveriesNow, type SpringWaiting } from './delivery.ts'
import { germinationTestSchema } from './germination-test.ts'
import { lotSchema } from './lot.ts'
import type { VarietyPlacing } from './lot-placing.ts'
import { plantingSchema, standCountSchema, type PlantingsNow } from './planting.ts'
import { isoDate } from './primitive.ts'
import type { RatesNow } from './rates.ts'
import { fileSchema, type WrittenFile } from './sheet/bring-in.ts'
import { tagSchema } from './tag.ts'
import type { TraceNow } from './trace.ts'

/** False: what looks like a slip of typing is refused as `unusual`, for a person to confirm. */
const isConfirmed = v.optional(v.boolean(), true)

const lotValues = v.partial(v.pick(lotSchema, ['state', 'returnedPounds', 'leftPounds']))

/** All that receiving seed is reckoned from. */
const received = ['delivery', 'lot', 'order', 'dealer', 'variety', 'carried', 'assumption', 'planting'] as const

export const springCalls = {
  /** Dealer by dealer: what was ordered, what came, what is owed; with lots, tags and their checks. */
  'delivery.list': read({ input: nothing, output: is<DeliveriesNow>(), tables: received }),
  /** A load, new or changed; gives its id. Days are given from outside: what is dated after today is refused. */
  'delivery.save': change({
    input: v.strictObject({ id: v.optional(id), delivery: deliverySchema, today: isoDate, isConfirmed }),
    output: is<number>(),
    tables: ['delivery', 'lot'],
    undo: ({ id }) => (id === undefined ? 'Write down a delivery' : 'Change a delivery'),
  }),
  'delivery.remove': change({
    input: v.strictObject({ id }),
    output: is<null>(),
    tables: ['delivery'],
    undo: 'Take a delivery away',
  }),
  /** What a dealer says of the rest of a line; null takes it away. */
  'delivery.promise': change({
    input: v.strictObject({ lineId: id, promise: v.nullable(promiseSchema) }),
    output: is<null>(),
    tables: ['delivery'],
    undo: ({ promise }) => (promise === null ? 'Take back what a dealer said' : `The rest: ${promise.says}`),
  }),
  /** A lot, new or changed; gives its id. The same number from one dealer is asked about, unless it is a further part. */
  'lot.save': change({
    input: v.strictObject({
      id: v.optional(id),
      lot: lotSchema,
      isSecondPart: v.optional(v.boolean(), false),
      isConfirmed,
    }),
    output: is<number>(),
    tables: ['lot'],
    undo: ({ id, lot }) => `${id === undefined ? 'Receive' : 'Change'} lot ${lot.lotNumber}`,
  }),
  /** Some values of a lot; the others stay as they are. `was`: what was seen; another by now is refused. */
  'lot.set': change({
    input: v.strictObject({ id, values: lotValues, was: v.optional(lotValues) }),
    output: is<null>(),
    tables: ['lot'],
    undo: 'Change lot',
  }),
  'lot.remove': change({ input: v.strictObject({ id }), output: is<null>(), tables: ['lot'], undo: 'Take a lot away' }),
  /** What stands on the tag, in place of what was written down before; null takes it away. */
  'tag.save': change({
    input: v.strictObject({ lotId: id, tag: v.nullable(tagSchema), today: isoDate }),
    output: is<null>(),
    tables: ['lot'],
    undo: ({ tag }) => (tag === null ? 'Take a tag away' : `Write down the tag of ${tag.lotNumber ?? 'a lot'}`),
  }),
  /** Some items of the tag; the others stay as they are. A lot without a tag gets one. `was` as in `lot.set`. */
  'tag.set': change({
    input: v.strictObject({
      ...{ lotId: id, items: v.partial(tagSchema), was: v.optional(v.partial(tagSchema)) },
      today: isoDate,
    }),
    output: is<null>(),
    tables: ['lot'],
    undo: 'Change tag',
  }),
  /** A picture or PDF of the tag, refused when its bytes are not what it says; gives its id. */
  'tag.addPhoto': change({
    input: v.strictObject({ lotId: id, file: fileSchema }),
    output: is<number>(),
    tables: ['lot'],
    undo: 'Keep a picture of a tag',
  }),
  'tag.photo': read({ input: v.strictObject({ id }), output: is<WrittenFile>(), tables: ['lot'] }),
  'tag.removePhoto': change({
    input: v.strictObject({ id }),
    output: is<null>(),
    tables: ['lot'],
    undo: 'Take a picture of a tag away',
  }),
  /** A germination test; gives its id. */
  'test.save': change({
    input: v.strictObject({ id: v.optional(id), lotId: id, test: germinationTestSchema, today: isoDate }),
    output: is<number>(),
    tables: ['lot'],
    undo: 'Write down a germination test',
  }),
  'test.remove': change({
    input: v.strictObject({ id }),
    output: is<null>(),
    tables: ['lot'],
    undo: 'Take a germination test away',
  }),

  /** Planned and real rates by field and lot; what is short or left by variety, with what to do, priced. */
  'rates.list': read({
    input: v.strictObject({ today: isoDate }),
    output: is<RatesNow>(),
    tables: [...planned, 'delivery', 'lot', 'order', 'planting', 'plan', 'rule', 'assumption'],
  }),
  /** A draft that plans with the seed that came; gives its id. */
  'rates.replan': change({
    input: nothing,
    output: is<number>(),
    tables: ['draft'],
    undo: 'Draft with the seed that came',
  }),
  /** Planned seed by field, for a spreadsheet, a map, or a terminal in the tractor. */
  'rates.file': read({
    input: v.strictObject({ as: v.picklist(['csv', 'geojson', 'task data']), today: isoDate }),
    output: is<WrittenFile>(),
    tables: ['plan', 'lot'],
  }),

  'planting.list': read({
    input: nothing,
    output: is<PlantingsNow>(),
    tables: ['planting', 'lot', 'delivery', 'order', 'assumption', ...planned],
  }),
  /** An entry, new or changed, half-finished or finished; gives its id. */
  'planting.save': change({
    input: v.strictObject({ id: v.optional(id), planting: plantingSchema, today: isoDate, isConfirmed }),
    output: is<number>(),
    tables: ['planting', 'lot'],
    undo: ({ id, planting }) =>
      planting.isFinished ? 'Finish a planting' : id === undefined ? 'Begin a planting' : 'Change a planting',
  }),
  'planting.remove': change({
    input: v.strictObject({ id }),
    output: is<null>(),
    tables: ['planting', 'lot'],
    undo: 'Take a planting away',
  }),
  'stand.save': change({
    input: v.strictObject({ id: v.optional(id), count: standCountSchema, today: isoDate }),
    output: is<number>(),
    tables: ['planting'],
    undo: 'Write down a stand count',
  }),
  'stand.remove': change({
    input: v.strictObject({ id }),
    output: is<null>(),
    tables: ['planting'],
    undo: 'Take a stand count away',
  }),
  /** Where the lots of each variety were placed, with the bound and the reasons, and whether anything has changed since. */
  'placing.list': read({
    input: v.strictObject({ today: isoDate }),
    output: is<VarietyPlacing[]>(),
    tables: [...planned, 'delivery', 'lot', 'order', 'planting', 'plan', 'rule', 'assumption'],
  }),
  /** Places the lots of every variety on its fields; `plan.stopWork` keeps what has been found. */
  'placing.solve': task({
    input: v.strictObject({ today: isoDate }),
    output: is<VarietyPlacing[]>(),
    tables: ['lot'],
    beside: true,
  }),
  'placing.keep': change({
    input: v.strictObject({ lotId: id, fieldId: id, isKept: v.boolean() }),
    output: is<null>(),
    tables: ['lot'],
    undo: ({ isKept }) => (isKept ? 'Keep a lot on a field' : 'Let a lot go elsewhere'),
  }),
  /** Lot to fields and field to lots, with each lot's balance. */
  'trace.list': read({
    input: nothing,
    output: is<TraceNow>(),
    tables: ['planting', 'lot', 'delivery', 'field', 'variety', 'dealer', 'farm', 'season'],
  }),
  /** What waits in spring, for the rail. */
  'spring.waiting': read({
    input: v.strictObject({ today: isoDate }),
    output: is<SpringWaiting>(),
    tables: [...planned, 'delivery', 'lot', 'order', 'planting', 'plan', 'rule', 'assumption'],
  }),
} as const
