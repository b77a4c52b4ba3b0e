/** Every call of the contract → what does it. A missing or extra one does not compile. Knows no SQL. */
import type { CallName, Input, Output } from '../../src-shared/api.ts'
import { fieldSchema } from '../../src-shared/field.ts'
import { quoteSchema } from '../../src-shared/quote.ts'
import { varietySchema } from '../../src-shared/variety.ts'
import { checkCell } from './cell.ts'
import { undoBack, undoForward, undoState } from './db/undo.ts'
import type { Engine } from './engine.ts'
import { farmSummary } from './farms.ts'
import { listFields, setField } from './fields.ts'
import { setLock } from './locks.ts'
import { closeFarm, openDemoFarm, startFarm, valueOf } from './open-close.ts'
import { planNow, solveNow, stopSolving } from './planning.ts'
import { listQuotes, setQuote } from './quotes.ts'
import { farmAtHand, reopenLast } from './recent.ts'
import { listVarieties, setVariety } from './varieties.ts'

export type Handlers = {
  [Name in CallName]: (engine: Engine, input: Input<Name>) => Output<Name> | Promise<Output<Name>>
}

export const handlers: Handlers = {
  'farm.current': async (engine) => {
    const farm = valueOf(reopenLast(engine))
    return farm === null ? null : farmSummary(farm)
  },
  'farm.openDemo': async (engine) => farmSummary(openDemoFarm(engine)),
  'farm.start': async (engine, { name, season }) => farmSummary(startFarm(engine, name, season)),
  'farm.close': (engine) => {
    closeFarm(engine)
    return null
  },

  'field.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listFields(db, seasonId)
  },
  'field.set': async (engine, { id, column, value }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setField(db, seasonId, id, column, checkCell(fieldSchema.entries, 'field', id, column, value))
    return null
  },

  'variety.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listVarieties(db, seasonId)
  },
  'variety.set': async (engine, { id, column, value }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setVariety(db, seasonId, id, column, checkCell(varietySchema.entries, 'variety', id, column, value))
    return null
  },

  'quote.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listQuotes(db, seasonId)
  },
  'quote.set': async (engine, { id, column, value }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setQuote(db, seasonId, id, column, checkCell(quoteSchema.entries, 'quote', id, column, value))
    return null
  },

  'lock.set': async (engine, { fieldId, variety }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setLock(db, seasonId, fieldId, variety)
    return null
  },

  'plan.latest': (engine) => planNow(farmAtHand(engine)),
  'plan.solve': (engine, settings) => solveNow(engine, settings),
  'plan.stop': (engine) => stopSolving(engine),

  'undo.state': (engine) => undoState(farmAtHand(engine).connection),
  'undo.back': (engine) => {
    const { connection } = farmAtHand(engine)
    undoBack(connection)
    return undoState(connection)
  },
  'undo.forward': (engine) => {
    const { connection } = farmAtHand(engine)
    undoForward(connection)
    return undoState(connection)
  },
}
