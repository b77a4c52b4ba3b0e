/** Every sheet → its store. A sheet without one does not compile. */
import { contractSchema } from '../../../src-shared/contract.ts'
import { costSchema } from '../../../src-shared/cost.ts'
import { loadSchema } from '../../../src-shared/load.ts'
import { dealerSchema, quoteSchema } from '../../../src-shared/quote.ts'
import { seenSchema } from '../../../src-shared/seen.ts'
import type { SheetName } from '../../../src-shared/sheet/sheet.ts'
import { measureSchema, threatSchema } from '../../../src-shared/threat.ts'
import { carriedSchema, varietySchema } from '../../../src-shared/variety.ts'
import { weekSchema } from '../../../src-shared/week.ts'
import { machineSchema, windowSchema } from '../../../src-shared/window.ts'
import { costStore } from './cost-store.ts'
import { fieldStore } from './field-store.ts'
import { loadStore } from './load-store.ts'
import { quoteStore } from './quote-store.ts'
import { ruleStore } from './rule-store.ts'
import { storeOf, type Shape } from './shape.ts'
import type { Store } from './store.ts'

export const shapes = {
  variety: {
    table: 'variety',
    entries: varietySchema.entries,
    records: { ratings: { table: 'rating', owner: 'varietyId', value: 'rating' } },
    isNamed: true,
  },
  dealer: {
    table: 'dealer',
    entries: dealerSchema.entries,
    lists: { breaks: { table: 'dealer_break', owner: 'dealerId', columns: ['fromPounds', 'offCentsPerPound'] } },
    isNamed: true,
  },
  quote: {
    table: 'quote',
    entries: quoteSchema.entries,
    names: { dealer: { table: 'dealer', column: 'dealerId' }, variety: { table: 'variety', column: 'varietyId' } },
    lists: { breaks: { table: 'quote_break', owner: 'quoteId', columns: ['fromPacks', 'packPriceCents'] } },
  },
  carried: {
    table: 'carried_seed',
    entries: carriedSchema.entries,
    names: { variety: { table: 'variety', column: 'varietyId' } },
  },
  window: { table: 'planting_window', entries: windowSchema.entries, isNamed: true },
  week: { table: 'season_week', entries: weekSchema.entries },
  machine: { table: 'machine', entries: machineSchema.entries, isNamed: true },
  measure: {
    table: 'measure',
    entries: measureSchema.entries,
    records: { efficacy: { table: 'measure_efficacy', owner: 'measureId', value: 'share' } },
    isNamed: true,
  },
  threat: { table: 'threat', entries: threatSchema.entries, isNamed: true },
  load: {
    table: 'load',
    entries: loadSchema.entries,
    names: {
      field: { table: 'field_season', column: 'fieldSeasonId' },
      variety: { table: 'variety', column: 'varietyId' },
    },
  },
  seen: {
    table: 'threat_seen',
    entries: seenSchema.entries,
    names: {
      field: { table: 'field_season', column: 'fieldSeasonId' },
      threat: { table: 'threat', column: 'threatId' },
    },
  },
  cost: {
    table: 'cost_entry',
    entries: costSchema.entries,
    names: {
      field: { table: 'field_season', column: 'fieldSeasonId' },
      dealer: { table: 'dealer', column: 'dealerId' },
    },
  },
  contract: { table: 'contract', entries: contractSchema.entries, isNamed: true },
} satisfies Record<Exclude<SheetName, 'field' | 'rule'>, Shape>

export const stores: Record<SheetName, Store> = {
  field: fieldStore,
  variety: storeOf(shapes.variety),
  dealer: storeOf(shapes.dealer),
  quote: quoteStore(storeOf(shapes.quote)),
  carried: storeOf(shapes.carried),
  window: storeOf(shapes.window),
  week: storeOf(shapes.week),
  machine: storeOf(shapes.machine),
  measure: storeOf(shapes.measure),
  threat: storeOf(shapes.threat),
  rule: ruleStore,
  load: loadStore(storeOf(shapes.load)),
  seen: storeOf(shapes.seen),
  cost: costStore(storeOf(shapes.cost)),
  contract: storeOf(shapes.contract),
}
