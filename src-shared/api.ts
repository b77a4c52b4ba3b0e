/**
 * THE contract between window and engine. Each call states its input (checked at the engine's door), its
 * output type, the tables it touches (live queries on them rerun) and, for a change, its words in the undo
 * menu. `src-main/engine/handlers.ts` maps every name to a function: a missing or extra one does not compile.
 * Long because it is one table of all calls.
 */
import * as v from 'valibot'
import { change, id, is, name, named, nothing, planned, read, tableNames, task, type TableName } from './api-call.ts'
import { calendarCalls } from './api-calendar.ts'
import { fileCalls } from './api-file.ts'
import { fallCalls } from './api-fall.ts'
import { reviewCalls } from './api-review.ts'
import { springCalls } from './api-spring.ts'
import type { Bearing, LedgerTopic } from './book/ledger.ts'
import type { Comparison } from './comparison.ts'
import { curveCounts, type Curve, type CurvePoint } from './curve.ts'
import type { Working } from './agronomy/explain.ts'
import type { TrialIndex } from './agronomy/trial.ts'
import type { RatePoint } from './agronomy/rate-curve.ts'
import { draftSettingsSchema, type DraftRow } from './draft.ts'
import type { UndoState } from './farm.ts'
import type { FieldRow } from './field.ts'
import type { HardYear } from './hard-year.ts'
import { markSchema, type OrdersNow, type OrdersWaiting } from './order.ts'
import type { PlanRecord, SolveProgress } from './plan.ts'
import { isoDate, note, words } from './primitive.ts'
import type { Dealer, QuoteRow } from './quote.ts'
import type { Reason, Reasons, RuleInForce } from './reasons.ts'
import type { Problem } from './problem.ts'
import type { Rule } from './rule.ts'
import {
  boundarySchemaIn,
  boundaryTakeSchema,
  exportSchema,
  lookSchema,
  takeSchema,
  type BoundaryPreview,
  type ImportSeen,
  type Taken,
  type WrittenFile,
} from './sheet/bring-in.ts'
import type { HouseDrop } from './sheet/house-drop.ts'
import { sheetChangeSchema, sheetNames, type SheetOutcome, type SheetRows } from './sheet/sheet.ts'
import type { Measure, Threat } from './threat.ts'
import type { Carried, VarietyRow } from './variety.ts'
import type { Contract } from './contract.ts'
import type { SeasonWeek } from './week.ts'
import type { Machine, PlantingWindow } from './window.ts'

export { tableNames, type TableName }

/** The day it is where the window is: a season knows none. Quotes that ended before are left out of a plan. */
const today = v.optional(isoDate)
const bookKey = words(300)
/** Sheets of which nothing is planned. */
const fall = ['load', 'seen', 'cost'] as const
const settingValue = v.pipe(
  v.union([v.string(), v.number(), v.boolean(), v.null(), v.array(v.unknown()), v.record(v.string(), v.unknown())]),
  v.check((value) => JSON.stringify(value).length <= 100_000, 'must not be longer than 100,000 characters'),
)
const rowsOf = <Row>() => is<(Row & { id: number })[]>()

/** How well and how long a plan is solved again. */
const again = v.strictObject({
  /** Stop when proven within this share of the least cost [0–0.2]. */
  gap: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(0.2)), 0.0005),
  /** For each solve [s]. */
  seconds: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(3600)), 30),
})

export const api = {
  ...fileCalls,
  ...calendarCalls,

  'field.list': read({
    input: nothing,
    output: is<FieldRow[]>(),
    // A row says what the field is held to.
    tables: ['field', 'season', 'lock', 'variety'],
  }),

  /** Yield indexes that variety trials propose, against the farm's usual variety. Nothing is written. */
  'variety.trials': read({
    input: v.strictObject({
      rows: v.pipe(
        v.array(
          v.strictObject({
            variety: name,
            place: v.pipe(v.string(), v.maxLength(200)),
            year: v.pipe(v.number(), v.minValue(0), v.maxValue(3000)),
            yieldLb: v.pipe(v.number(), v.minValue(1), v.maxValue(20_000)),
            lsdLb: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(20_000))),
            water: v.optional(v.picklist(['irrigated', 'dryland'])),
          }),
        ),
        v.minLength(1),
        v.maxLength(10_000),
      ),
    }),
    output: is<TrialIndex[]>(),
    tables: ['variety', 'assumption'],
  }),

  'variety.list': read({ input: nothing, output: is<VarietyRow[]>(), tables: ['variety'] }),

  'quote.list': read({ input: nothing, output: is<QuoteRow[]>(), tables: ['quote', 'dealer', 'variety'] }),
  'dealer.list': read({ input: nothing, output: rowsOf<Dealer>(), tables: ['dealer'] }),
  'carried.list': read({ input: nothing, output: rowsOf<Carried>(), tables: ['carried', 'variety'] }),
  'window.list': read({ input: nothing, output: rowsOf<PlantingWindow>(), tables: ['window'] }),
  'week.list': read({ input: nothing, output: rowsOf<SeasonWeek>(), tables: ['week'] }),
  'machine.list': read({ input: nothing, output: rowsOf<Machine>(), tables: ['machine'] }),
  'measure.list': read({ input: nothing, output: rowsOf<Measure>(), tables: ['measure', 'threat'] }),
  'contract.list': read({ input: nothing, output: rowsOf<Contract>(), tables: ['contract'] }),
  'threat.list': read({ input: nothing, output: rowsOf<Threat>(), tables: ['threat'] }),
  'rule.list': read({ input: nothing, output: rowsOf<Rule>(), tables: ['rule', 'variety', 'threat'] }),

  /** Cells, new rows and removed rows of one sheet: one transaction, one undo step, named by what the user did. */
  'sheet.change': change({
    input: sheetChangeSchema,
    output: is<SheetOutcome & SheetRows>(),
    tables: [...planned, ...fall, 'rule', 'lock'],
    touches: ({ sheet, removed }) => (removed.length > 0 ? [...planned, ...fall, 'rule', 'lock'] : [sheet]),
    undo: ({ says }) => says,
  }),

  /** The book of assumptions by topic: the default beside the farm's own value. */
  'book.list': read({ input: nothing, output: is<LedgerTopic[]>(), tables: ['assumption', 'threat'] }),
  /** What a row of the book is felt in this season. */
  'book.bearing': read({
    input: v.strictObject({ key: bookKey }),
    output: is<Bearing>(),
    tables: [...planned, 'rule', 'assumption'],
  }),
  'book.set': change({
    input: v.strictObject({
      key: bookKey,
      value: v.union([v.number(), v.string()]),
      source: v.optional(note),
      /** Ends of the range; absent: as they are, null: none. */
      low: v.optional(v.nullable(v.pipe(v.number(), v.finite()))),
      high: v.optional(v.nullable(v.pipe(v.number(), v.finite()))),
    }),
    output: is<null>(),
    tables: ['assumption'],
    undo: 'Change an assumption',
  }),
  /** The default holds again; of all rows where no key is given. */
  'book.reset': change({
    input: v.strictObject({ key: v.nullable(bookKey) }),
    output: is<null>(),
    tables: ['assumption'],
    undo: ({ key }) => (key === null ? 'Reset the whole book' : 'Reset an assumption'),
  }),
  /** What a pound and a pack plant where nothing is said of a field: the house drop on the usual rows. */
  'house.drop': read({ input: nothing, output: is<HouseDrop>(), tables: ['field', 'assumption'] }),

  /** Proposals of a region that a person accepted, in one step: rows of sheets, and assumptions. */
  'region.take': change({
    input: v.strictObject({
      rows: v.pipe(
        v.array(
          v.strictObject({
            sheet: v.picklist(['window', 'week', 'machine', 'measure', 'rule']),
            values: v.record(words(80), v.unknown()),
          }),
        ),
        v.maxLength(200),
      ),
      book: v.pipe(v.array(v.strictObject({ key: bookKey, value: v.pipe(v.number(), v.finite()) })), v.maxLength(50)),
    }),
    output: is<null>(),
    tables: ['window', 'week', 'machine', 'measure', 'rule', 'assumption'],
    undo: 'Start by region',
  }),
  /** Ends the reading of a file that takes too long; what asked for it is refused. */
  'import.stop': task({ inAnySeason: true, beside: true, input: nothing, output: is<null>(), tables: [] }),
  /** Every table of files with what it is, what is asked and what becomes of every row. Nothing is written. */
  'import.look': read({ input: lookSchema, output: is<ImportSeen>(), tables: [] }),
  'import.apply': change({
    input: takeSchema,
    output: is<Taken>(),
    tables: [...planned, ...fall, 'setting'],
    undo: ({ files }) => `Import ${files.length === 1 ? (files[0]?.name ?? 'a file') : `${files.length} files`}`,
  }),
  /** Answers that were given to imports, kept on this machine. */
  'import.answers': read({ input: nothing, output: is<Record<string, string>>(), tables: ['setting'] }),
  /** A spreadsheet to fill in, with units and examples. `sheet` null: all of them in one workbook. */
  'import.template': read({
    input: v.strictObject({ sheet: v.nullable(v.picklist(sheetNames)) }),
    output: is<WrittenFile>(),
    tables: [],
  }),
  /** Takes one of them back, or all. */
  'import.forget': task({
    inAnySeason: true,
    input: v.strictObject({ key: v.nullable(words(400)) }),
    output: is<null>(),
    tables: ['setting'],
  }),
  'boundary.look': read({ input: boundarySchemaIn, output: is<BoundaryPreview>(), tables: [] }),
  'boundary.apply': change({
    input: boundaryTakeSchema,
    output: is<Taken>(),
    tables: ['field'],
    undo: 'Bring in boundaries from a file',
  }),
  /** A table as it is shown, written as CSV or for a spreadsheet. */
  'export.table': read({ input: exportSchema, output: is<WrittenFile>(), tables: [] }),

  /** Column widths, matches of columns and the like: kept with the file, not taken back by undo. */
  'setting.list': read({ input: nothing, output: is<Record<string, unknown>>(), tables: ['setting'] }),
  'setting.set': change({
    inAnySeason: true,
    input: v.strictObject({ key: name, value: settingValue }),
    output: is<null>(),
    tables: ['setting'],
  }),

  /** Keep a variety on a field in every plan until released; null releases. */
  'lock.set': change({
    input: v.strictObject({ fieldId: id, variety: v.nullable(name) }),
    output: is<null>(),
    tables: ['lock'],
    undo: 'Lock a field',
  }),

  /** Keep a variety off a field in every plan, whatever the window, or let it back. */
  'exclusion.set': change({
    input: v.strictObject({ fieldId: id, variety: name, isOut: v.boolean() }),
    output: is<null>(),
    tables: ['lock'],
    undo: ({ variety, isOut }) => (isOut ? `Keep ${variety} off a field` : `Let ${variety} back on a field`),
  }),

  /** The newest plan with its proof, and whether the numbers behind it have changed since. */
  'plan.latest': read({
    input: nothing,
    output: is<PlanRecord | null>(),
    // What dealers refused cannot be bought.
    tables: ['plan', ...planned, 'rule', 'assumption', 'lock', 'season', 'order'],
  }),
  'plan.solve': task({
    input: v.strictObject({
      today,
      /** Stop when proven within this share of the least cost [0–0.2]. */
      gap: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(0.2)), 0.001),
      /** Wall clock, the last net [s]. */
      seconds: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(3600)), 60),
    }),
    output: is<PlanRecord>(),
    tables: ['plan'],
    beside: true,
  }),
  /** Stops the running plan and keeps the best found; true if one was running. */
  'plan.stop': task({ input: nothing, output: is<boolean>(), tables: [], beside: true }),

  /** The working behind one option of the season as it stands: every number with its formula, terms and sources. */
  'option.explain': read({
    input: v.strictObject({
      field: name,
      variety: name,
      window: name,
      /** Monday of the planting week, ISO date; absent: the middle of the window. */
      week: v.optional(isoDate),
      programme: v.pipe(v.array(name), v.maxLength(50)),
      /** [seeds/ft] that the plan chose; absent: as the season's own rules have it. */
      seedsPerFoot: v.optional(v.pipe(v.number(), v.minValue(0.1), v.maxValue(60))),
    }),
    output: is<Working>(),
    tables: ['field', 'variety', 'rule', 'season'],
  }),

  /** Margin an acre against seeding rate, for one option of the season as it stands. */
  'option.rates': read({
    input: v.strictObject({
      field: name,
      variety: name,
      window: name,
      programme: v.pipe(v.array(name), v.maxLength(50)),
      /** [cent/lb] */
      seedCentsPerPound: v.pipe(v.number(), v.minValue(0), v.maxValue(1_000_000)),
    }),
    output: is<RatePoint[]>(),
    tables: ['field', 'variety', 'rule', 'season'],
  }),

  /** Makes any plan that was kept, as the one before, the plan in hand again. */
  'plan.adopt': change({ input: v.strictObject({ id }), output: is<null>(), tables: ['plan'] }),
  /** What differs between two plans, of the season or of drafts, by their ids. */
  'plan.compare': read({
    input: v.strictObject({ a: id, b: id }),
    output: is<Comparison>(),
    tables: ['plan', 'draft', ...named],
  }),
  /** Cash against expected loss. Points are told as they are found; `plan.stopWork` keeps those there are. */
  'plan.curve': task({
    input: v.strictObject({
      today,
      counts: v.optional(v.picklist(curveCounts), 'cash'),
      /** Points between the two ends. */
      between: v.optional(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(30)), 9),
      gap: v.optional(v.pipe(v.number(), v.minValue(0), v.maxValue(0.2)), 0.005),
      /** For each point [s]. */
      seconds: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(600)), 10),
    }),
    output: is<Curve>(),
    tables: [],
    beside: true,
  }),
  /** Makes a point of the curve drawn last the plan in hand, by its place on it, from 0 for least loss. */
  'plan.adoptPoint': change({
    input: v.strictObject({ point: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(100)) }),
    output: is<null>(),
    tables: ['plan'],
  }),
  /** The plan in hand in other years, and what planning for the wrong one costs. */
  'plan.hardYear': task({ input: again, output: is<HardYear>(), tables: [], beside: true }),
  /** What is known of the plan's reasons: refined ones where they were found, quick bounds for the rest; null without a plan. */
  'plan.reasons': read({ input: nothing, output: is<Reasons | null>(), tables: ['plan', ...named] }),
  /** The rules that the plan in hand had to keep, each in a sentence; none without a plan. */
  'plan.rules': read({ input: nothing, output: is<RuleInForce[]>(), tables: ['plan', ...named] }),
  /** Works the reasons out one by one, telling each; keeps them with the plan, also when stopped. */
  'plan.refine': task({
    input: v.strictObject({
      ...again.entries,
      choicesPerField: v.optional(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(10)), 1),
      /** `rules`: what each rule costs and at which price varieties left out come in, without the fields. */
      of: v.optional(v.picklist(['everything', 'rules']), 'everything'),
      /** Only the choices of this field, each of them. */
      field: v.optional(name),
    }),
    output: is<Reasons>(),
    tables: ['plan'],
    beside: true,
  }),
  /** Stops a curve, a hard-year test or the refining of reasons; true if one was at work. */
  'plan.stopWork': task({ input: nothing, output: is<boolean>(), tables: [], beside: true }),

  'draft.list': read({
    input: nothing,
    output: is<DraftRow[]>(),
    // A row says what has changed since its plan was made.
    tables: ['draft', 'plan', ...planned, 'rule', 'assumption', 'lock', 'season'],
  }),
  /** A new draft, or with an id a change to one; gives its id. */
  'draft.save': change({
    input: v.strictObject({ id: v.optional(id), name, settings: draftSettingsSchema }),
    output: is<number>(),
    tables: ['draft'],
    undo: 'Keep a draft',
  }),
  'draft.duplicate': change({
    input: v.strictObject({ id, name }),
    output: is<number>(),
    tables: ['draft'],
    undo: 'Copy a draft',
  }),
  'draft.remove': change({
    input: v.strictObject({ id }),
    output: is<null>(),
    tables: ['draft', 'plan'],
    undo: 'Remove a draft',
  }),
  /** Solves the season with the draft's changes; gives the id of the plan that was kept with the draft. */
  'draft.solve': task({
    input: v.strictObject({ id, today, ...again.entries }),
    output: is<number>(),
    tables: ['plan', 'draft'],
    beside: true,
  }),
  /** Makes the draft's newest plan the plan in hand. The season's own numbers and rules stay as they are. */
  'draft.adopt': change({ input: v.strictObject({ id }), output: is<null>(), tables: ['plan'] }),

  /** Every order as it stands, the plan it came from, how the plan in hand differs, and what is short. */
  'orders.list': read({
    input: nothing,
    output: is<OrdersNow>(),
    tables: ['order', 'plan', 'dealer', 'variety', 'quote'],
  }),
  /** One order for each dealer from the plan in hand; lines sent or answered stay as they are. */
  'orders.make': change({
    input: v.strictObject({ today: isoDate }),
    output: is<{ orders: number; lines: number }>(),
    tables: ['order'],
    undo: 'Make the orders',
  }),
  /** Says the same of some lines: sent, confirmed, changed, refused, or to order again. */
  'orders.mark': change({
    input: v.strictObject({
      lines: v.pipe(v.array(id), v.minLength(1), v.maxLength(10_000)),
      mark: markSchema,
      says: words(200),
    }),
    output: is<null>(),
    tables: ['order'],
    undo: ({ says }) => says,
  }),
  'orders.note': change({
    input: v.strictObject({ id, number: v.nullable(name), note: v.nullable(note) }),
    output: is<null>(),
    tables: ['order'],
    undo: 'Write on an order',
  }),
  'orders.drop': change({
    input: v.strictObject({ id }),
    output: is<null>(),
    tables: ['order'],
    undo: 'Take an order away',
  }),
  /** A draft in which dealers deliver what they agreed to and no more; gives its id. */
  'orders.replan': change({
    input: nothing,
    output: is<number>(),
    tables: ['draft'],
    undo: 'Draft without the refused seed',
  }),
  /** One order as a table, or with null all of them. */
  'orders.file': read({
    input: v.strictObject({ id: v.nullable(id), as: v.picklist(['csv', 'xlsx']) }),
    output: is<WrittenFile>(),
    tables: ['order'],
  }),
  /** What waits at the orders, for the rail. */
  'orders.waiting': read({ input: nothing, output: is<OrdersWaiting>(), tables: ['order', 'plan'] }),

  ...springCalls,
  ...fallCalls,
  ...reviewCalls,

  'undo.state': read({ input: nothing, output: is<UndoState>(), tables: ['undo', 'farm'] }),
  'undo.back': task({ input: nothing, output: is<UndoState>(), tables: tableNames }),
  'undo.forward': task({ input: nothing, output: is<UndoState>(), tables: tableNames }),
} as const

export type Api = typeof api
export type CallName = keyof Api
export type Input<Name extends CallName> = v.InferOutput<Api[Name]['input']>
export type GivenInput<Name extends CallName> = v.InferInput<Api[Name]['input']>
export type Output<Name extends CallName> = Api[Name]['output']

/**
 * `revision`: a count of what has changed in the farm since the engine began. Of a read, what it was read at, or an earlier one;
 * of a change, the one that it made. Of two answers to one question the one with the greater is the newer.
 */
export type Reply<Name extends CallName = CallName> =
  { ok: true; value: Output<Name>; revision: number } | { ok: false; problems: Problem[] }

/** Something that work beside the plan has found. */
export type Finding =
  | { of: 'curve'; point: Pick<CurvePoint, 'lossLimitCents' | 'paidCents' | 'lossCents'> }
  | { of: 'reasons'; reason: Reason }

/** What the engine says unasked. */
export type News =
  /** What has reached the revision says nothing older. Without one, anything may have changed, as a file on the disk. */
  | { kind: 'changed'; tables: readonly TableName[]; revision?: number }
  /** Of the season's own plan, or of the plan of a draft by its id. */
  | { kind: 'progress'; progress: SolveProgress; draft: number | null }
  /** Work beside the plan: what was found, and how far it has come; `steps` is null where that is not known. */
  | { kind: 'work'; found: Finding; step: number; steps: number | null }
  | { kind: 'engine'; state: 'ready' | 'restarted' | 'stopped' }

/** How paper may be asked for. */
export type PaperSize = 'Letter' | 'A4'

/** What the menu of the desktop window wishes of the page. */
export type Wish = 'undo' | 'redo' | 'print' | 'new farm'

/** All that Electron's window is given. */
export interface Desk {
  /** A `Reply` as JSON: as one text it crosses into the page much sooner than as thousands of values. */
  call(name: CallName, input: unknown): Promise<string>
  listen(hear: (news: News) => void): () => void
  /** The page as it would be printed, as base64. */
  pdf(paper: PaperSize): Promise<string>
  /** Returns a function that stops listening. */
  heed(hear: (wish: Wish) => void): () => void
  /** A farm's file that was dropped on the window, opened where it lies. */
  openDropped(file: File): Promise<void>
}

/** How a window reaches an engine; Electron's port, a loopback socket or a direct call in tests. */
export interface Transport {
  call<Name extends CallName>(name: Name, input: GivenInput<Name>): Promise<Reply<Name>>
  /** Returns a function that stops listening. */
  listen(hear: (news: News) => void): () => void
}
