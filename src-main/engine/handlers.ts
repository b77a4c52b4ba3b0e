/**
 * Every call of the contract → what does it. A missing or extra one does not compile. Knows no SQL.
 * Long because it is one table of all calls.
 */
import type { CallName, Input, Output } from '../../src-shared/api.ts'
import { valueOf } from '../../src-shared/problem.ts'
import { archiveFile } from './archiving.ts'
import { previewBoundaries, takeBoundaries } from './bringing-boundaries.ts'
import { lookAtFiles, takeFiles, writeTable } from './bringing-in.ts'
import type { Connection } from './db/connect.ts'
import { listCosts } from './costs.ts'
import { removeDelivery, saveDelivery, setPromise } from './deliveries.ts'
import { adoptDraft, adoptPlan, comparePlans, draftsNow, solveDraft } from './drafting.ts'
import { duplicateDraft, removeDraft, saveDraft } from './drafts.ts'
import { explainNow, ratesOf, trialsNow } from './explaining.ts'
import { undoBack, undoForward, undoState } from './db/undo.ts'
import type { Engine } from './engine.ts'
import { problemReport } from './problem-report.ts'
import { backUpNow, backupsNow, bringFarmIn, copyOut, copyRest, goBackTo, openToRead } from './farm-files.ts'
import { farmSummary } from './farms.ts'
import { forgetAnswers, listAnswers } from './import-answers.ts'
import { importTemplate } from './import-templates.ts'
import { takePiece } from './keeper/pieces.ts'
import { listFields } from './fields.ts'
import { harvestNow, harvestWaiting } from './harvesting.ts'
import { bearingNow, bookNow, houseDropNow, resetBook, setBook } from './house-book.ts'
import { renameFarm } from './keeper/moving.ts'
import { keepWeek, letWeekGo, setExclusion, setLock } from './locks.ts'
import { removeTest, saveTag, saveTest, setTagItems } from './lot-tags.ts'
import { listLoads, readLoadTerms } from './loads.ts'
import { keepLot } from './lot-fields.ts'
import { findLot, removeLot, saveLot, setLot } from './lots.ts'
import { closeFarm, openDemoFarm, openDemoYear, openKeptFarm, startFarm, listFarms } from './open-close.ts'
import { plantingsNow } from './planting-record.ts'
import { removeCount, removePlanting, saveCount, savePlanting } from './plantings.ts'
import { placeNow, placingsNow } from './placing-lots.ts'
import { planInHandId } from './plans.ts'
import { planNow, solveNow, stopSolving } from './planning.ts'
import { adoptPoint, curveNow, hardYearNow, reasonsNow, refineNow, stopWork } from './reasoning.ts'
import { calendarFile, calendarNow, moveNow } from './calendar.ts'
import { draftReplan, makeOrders, orderFile, ordersNow } from './ordering.ts'
import { dropOrder, markLines, ordersWaiting, setOrderNote } from './orders.ts'
import { listQuotes } from './quotes.ts'
import { deliveriesNow } from './receiving.ts'
import { stopReading, type FileOfCall } from './reading-files.ts'
import { farmAtHand, reopenLast } from './recent.ts'
import { goToSeason, requireNoPlan, rollLook, rollNow, seasonsNow, settleSeason } from './rolling.ts'
import { rulesInForce } from './rules-in-force.ts'
import { lessonsNow, reviewFile, reviewNow, setLessonAside, takeLesson, workingNow } from './reviewing.ts'
import { listRules } from './rules.ts'
import { listSeen } from './seen.ts'
import { listSettings, setSetting } from './settings.ts'
import { changeSheet, needsList, rowsAfter } from './sheets/change-sheet.ts'
import { listSheet } from './sheets/list-sheet.ts'
import { shapes } from './sheets/stores.ts'
import { springFile } from './spring-files.ts'
import { draftWithLots, ratesNow } from './spring-rates.ts'
import { springWaiting } from './spring-waiting.ts'
import { addPhoto, readPhoto, removePhoto } from './tag-photos.ts'
import { takeProposals } from './starting.ts'
import { traceNow } from './tracing.ts'
import { askAboutDelivery, askAboutLot, askAboutPlanting } from './unusual-entries.ts'
import { listVarieties } from './varieties.ts'

export type Handlers = {
  [Name in CallName]: (
    engine: Engine,
    input: Input<Name>,
    ...file: Name extends keyof FileOfCall ? [FileOfCall[Name]] : []
  ) => Output<Name> | Promise<Output<Name>>
}

/** The open farm's tables and season, as what works row by row wants them. */
function rowsAtHand(engine: Engine): [Connection, number] {
  const { connection, seasonId } = farmAtHand(engine)
  return [connection, seasonId]
}

export const handlers: Handlers = {
  'farm.current': async (engine) => {
    const farm = valueOf(reopenLast(engine))
    return farm === null ? null : farmSummary(farm)
  },
  'farm.openDemo': async (engine, { today, harvested }) =>
    farmSummary(harvested && today !== undefined ? await openDemoYear(engine, today) : openDemoFarm(engine, today)),
  'farm.start': async (engine, { name, season }) => farmSummary(startFarm(engine, name, season)),
  'farm.list': (engine) => listFarms(engine),
  'farm.open': async (engine, { fileName, asItIs }) => farmSummary(openKeptFarm(engine, fileName, asItIs)),
  'farm.openToRead': async (engine, { fileName }) => farmSummary(openToRead(engine, fileName)),
  'farm.close': (engine) => {
    closeFarm(engine)
    return null
  },
  'farm.taken': (engine) => engine.taken,
  'farm.dismissTaken': (engine) => {
    engine.taken = []
    return null
  },

  'farm.rename': async (engine, { name }) => farmSummary(renameFarm(engine, name)),
  'farm.copyOut': (engine) => copyOut(engine),
  'farm.copyRest': (engine, { from }) => copyRest(engine, from),
  'farm.bringPiece': (engine, { after, base64 }) => takePiece(engine, after, Buffer.from(base64, 'base64')),
  'farm.bringIn': async (engine, { file }) => farmSummary(bringFarmIn(engine, file)),

  'report.read': (engine) => problemReport(engine),

  'backup.list': (engine, { fileName }) => backupsNow(engine, fileName),
  'backup.make': (engine) => backUpNow(farmAtHand(engine)),
  'backup.restore': async (engine, { fileName, backup }) => farmSummary(goBackTo(engine, fileName, backup)),

  'field.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listFields(db, seasonId)
  },

  'variety.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listVarieties(db, seasonId)
  },

  'quote.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listQuotes(db, seasonId)
  },

  'dealer.list': (engine) => listSheet(...rowsAtHand(engine), shapes.dealer),
  'carried.list': (engine) => listSheet(...rowsAtHand(engine), shapes.carried),
  'window.list': (engine) => listSheet(...rowsAtHand(engine), shapes.window),
  'week.list': (engine) => listSheet(...rowsAtHand(engine), shapes.week),
  'machine.list': (engine) => listSheet(...rowsAtHand(engine), shapes.machine),
  'measure.list': (engine) => listSheet(...rowsAtHand(engine), shapes.measure),
  'contract.list': (engine) => listSheet(...rowsAtHand(engine), shapes.contract),
  'threat.list': (engine) => listSheet(...rowsAtHand(engine), shapes.threat),
  'rule.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listRules(db, seasonId)
  },
  'sheet.change': async (engine, input) => {
    const list = async () => (await handlers[`${input.sheet}.list`](engine, {})) as readonly { id: number }[]
    const before = needsList(input) ? await list() : []
    const outcome = changeSheet(...rowsAtHand(engine), input, before)
    return { ...outcome, ...rowsAfter(await list(), input, outcome) }
  },

  'book.list': (engine) => bookNow(farmAtHand(engine)),
  'book.bearing': (engine, { key }) => bearingNow(farmAtHand(engine), key),
  'book.set': (engine, { key, ...change }) => setBook(farmAtHand(engine), key, change),
  'book.reset': (engine, { key }) => resetBook(farmAtHand(engine), key),
  'house.drop': (engine) => houseDropNow(farmAtHand(engine)),

  'region.take': (engine, input) => takeProposals(farmAtHand(engine), input),
  'import.stop': (engine) => stopReading(engine),
  'import.look': (engine, input, files) => lookAtFiles(engine, farmAtHand(engine), input, files),
  'import.apply': (engine, input, files) => takeFiles(engine, farmAtHand(engine), input, files),
  'import.template': (engine, { sheet }) => importTemplate(farmAtHand(engine), sheet),
  'import.answers': ({ home }) => listAnswers(home),
  'import.forget': ({ home }, { key }) => forgetAnswers(home, key),
  'boundary.look': (engine, input, file) => previewBoundaries(farmAtHand(engine), input, file),
  'boundary.apply': (engine, input, file) => takeBoundaries(farmAtHand(engine), input, file),
  'export.table': (_engine, input) => writeTable(input),

  'setting.list': (engine) => listSettings(farmAtHand(engine).connection),
  'setting.set': (engine, { key, value }) => setSetting(farmAtHand(engine).connection, key, value),

  'lock.set': async (engine, { fieldId, variety }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setLock(db, seasonId, fieldId, variety)
    return null
  },

  'exclusion.set': async (engine, { fieldId, variety, isOut }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setExclusion(db, seasonId, fieldId, variety, isOut)
    return null
  },

  'plan.latest': (engine) => planNow(farmAtHand(engine)),
  'plan.solve': (engine, settings) => solveNow(engine, settings),
  'plan.stop': (engine) => stopSolving(engine),
  'option.explain': async (engine, option) => explainNow(farmAtHand(engine), option),
  'variety.trials': async (engine, { rows }) => trialsNow(farmAtHand(engine), rows),
  'option.rates': async (engine, option) => ratesOf(farmAtHand(engine), option),
  'plan.adopt': (engine, { id }) => adoptPlan(farmAtHand(engine), id),
  'plan.compare': (engine, { a, b }) => comparePlans(farmAtHand(engine), a, b),
  'plan.curve': (engine, settings) => curveNow(engine, settings),
  'plan.adoptPoint': (engine, { point }) => adoptPoint(engine, point),
  'plan.hardYear': (engine, settings) => hardYearNow(engine, settings),
  'plan.reasons': (engine) => reasonsNow(engine, farmAtHand(engine)),
  'plan.rules': (engine) => rulesInForce(farmAtHand(engine)),
  'calendar.seen': (engine) => calendarNow(farmAtHand(engine)),
  'calendar.move': (engine, move) => moveNow(engine, move),
  'calendar.keep': async (engine, block) => {
    const { db, seasonId } = farmAtHand(engine)
    await keepWeek(db, seasonId, block)
    return null
  },
  'calendar.letGo': async (engine, block) => {
    const { db, seasonId } = farmAtHand(engine)
    await letWeekGo(db, seasonId, block)
    return null
  },
  'calendar.file': (engine, { as, today }) => calendarFile(farmAtHand(engine), as, today),
  'plan.refine': (engine, settings) => refineNow(engine, settings),
  'plan.stopWork': (engine) => stopWork(engine),

  'draft.list': (engine) => draftsNow(farmAtHand(engine)),
  'draft.save': (engine, { id, name, settings }) => {
    const { db, seasonId } = farmAtHand(engine)
    return saveDraft(db, seasonId, id, name, settings)
  },
  'draft.duplicate': (engine, { id, name }) => {
    const { db, seasonId } = farmAtHand(engine)
    return duplicateDraft(db, seasonId, id, name)
  },
  'draft.remove': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await removeDraft(db, seasonId, id)
    return null
  },
  'draft.solve': (engine, settings) => solveDraft(engine, settings),
  'draft.adopt': (engine, { id }) => adoptDraft(farmAtHand(engine), id),

  'orders.list': (engine) => ordersNow(farmAtHand(engine)),
  'orders.make': (engine, { today }) => makeOrders(farmAtHand(engine), today),
  'orders.mark': async (engine, { lines, mark }) => {
    const { db, seasonId } = farmAtHand(engine)
    await markLines(db, seasonId, lines, mark)
    return null
  },
  'orders.note': async (engine, { id, ...words }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setOrderNote(db, seasonId, id, words)
    return null
  },
  'orders.drop': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await dropOrder(db, seasonId, id)
    return null
  },
  'orders.replan': (engine) => draftReplan(farmAtHand(engine)),
  'orders.file': (engine, input) => orderFile(farmAtHand(engine), input),
  'orders.waiting': async (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return ordersWaiting(db, seasonId, await planInHandId(db, seasonId))
  },

  'delivery.list': (engine) => deliveriesNow(farmAtHand(engine)),
  'delivery.save': async (engine, { id, delivery, today, isConfirmed }) => {
    const { db, seasonId } = farmAtHand(engine)
    if (!isConfirmed) await askAboutDelivery({ db, seasonId }, delivery)
    return saveDelivery(db, seasonId, id, delivery, today)
  },
  'delivery.remove': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await removeDelivery(db, seasonId, id)
    return null
  },
  'delivery.promise': async (engine, { lineId, promise }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setPromise(db, seasonId, lineId, promise)
    return null
  },
  'lot.save': async (engine, { id, lot, isSecondPart, isConfirmed }) => {
    const { db, seasonId } = farmAtHand(engine)
    if (!isConfirmed) await askAboutLot({ db, seasonId }, lot)
    return saveLot(db, seasonId, id, lot, isSecondPart)
  },
  'lot.set': async (engine, { id, values, was }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setLot(db, seasonId, id, values, was)
    return null
  },
  'lot.remove': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await removeLot(db, seasonId, id)
    return null
  },
  'tag.save': async (engine, { lotId, tag, today }) => {
    const { db, seasonId } = farmAtHand(engine)
    await saveTag(db, seasonId, lotId, tag, today)
    return null
  },
  'tag.set': async (engine, { lotId, items, was, today }) => {
    const { db, seasonId } = farmAtHand(engine)
    await setTagItems(db, await findLot(db, seasonId, lotId), items, was, today)
    return null
  },
  'tag.addPhoto': (engine, { lotId, file }) => {
    const { db, seasonId } = farmAtHand(engine)
    return addPhoto(db, seasonId, lotId, file)
  },
  'tag.photo': (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    return readPhoto(db, seasonId, id)
  },
  'tag.removePhoto': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await removePhoto(db, seasonId, id)
    return null
  },
  'test.save': (engine, input) => {
    const { db, seasonId } = farmAtHand(engine)
    return saveTest(db, seasonId, input)
  },
  'test.remove': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await removeTest(db, seasonId, id)
    return null
  },

  'rates.list': (engine, { today }) => ratesNow(farmAtHand(engine), today),
  'rates.replan': (engine) => draftWithLots(farmAtHand(engine)),
  'rates.file': (engine, { as, today }) => springFile(farmAtHand(engine), as, today),

  'planting.list': (engine) => plantingsNow(farmAtHand(engine)),
  'planting.save': async (engine, { id, planting, today, isConfirmed }) => {
    const { db, seasonId } = farmAtHand(engine)
    if (!isConfirmed) await askAboutPlanting({ db, seasonId }, id, planting)
    return savePlanting(db, seasonId, id, planting, today)
  },
  'planting.remove': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await removePlanting(db, seasonId, id)
    return null
  },
  'stand.save': (engine, input) => {
    const { db, seasonId } = farmAtHand(engine)
    return saveCount(db, seasonId, input)
  },
  'stand.remove': async (engine, { id }) => {
    const { db, seasonId } = farmAtHand(engine)
    await removeCount(db, seasonId, id)
    return null
  },
  'placing.list': (engine, { today }) => placingsNow(farmAtHand(engine), today),
  'placing.solve': (engine, { today }) => placeNow(engine, { today }),
  'placing.keep': (engine, kept) => {
    const { db, seasonId } = farmAtHand(engine)
    return keepLot(db, seasonId, kept)
  },
  'trace.list': (engine) => traceNow(farmAtHand(engine)),
  'spring.waiting': (engine, { today }) => springWaiting(farmAtHand(engine), today),

  'load.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listLoads(db, seasonId)
  },
  'load.terms': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return readLoadTerms(db, seasonId)
  },
  'seen.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listSeen(db, seasonId)
  },
  'cost.list': (engine) => {
    const { db, seasonId } = farmAtHand(engine)
    return listCosts(db, seasonId)
  },

  'review.now': (engine, { seasonId }) => reviewNow(farmAtHand(engine), seasonId),
  'review.working': (engine, { seasonId, figure }) => workingNow(farmAtHand(engine), seasonId, figure),
  'review.file': (engine, { seasonId, ...asked }) => reviewFile(farmAtHand(engine), seasonId, asked),
  'lesson.list': (engine, { seasonId }) => lessonsNow(farmAtHand(engine), seasonId),
  'lesson.take': (engine, { seasonId, key }) => takeLesson(farmAtHand(engine), seasonId, key),
  'lesson.setAside': (engine, { seasonId, key, isAside }) => setLessonAside(farmAtHand(engine), seasonId, key, isAside),
  'harvest.list': (engine) => harvestNow(farmAtHand(engine)),
  'harvest.waiting': (engine) => harvestWaiting(farmAtHand(engine)),

  'season.archive': (engine) => archiveFile(farmAtHand(engine)),
  'season.list': (engine) => seasonsNow(farmAtHand(engine)),
  'season.look': (engine) => rollLook(farmAtHand(engine)),
  'season.roll': async (engine, { crops }) => {
    farmAtHand(engine)
    await rollNow(engine, crops)
    return farmSummary(farmAtHand(engine))
  },
  'season.open': async (engine, { id }) => {
    farmAtHand(engine)
    await goToSeason(engine, id)
    return farmSummary(farmAtHand(engine))
  },

  'undo.state': (engine) => {
    const { connection, isReadOnly } = farmAtHand(engine)
    // Of a closed season nothing is taken back.
    return isReadOnly ? { back: null, forward: null } : undoState(connection)
  },
  'undo.back': (engine) => {
    const farm = farmAtHand(engine)
    const { connection } = farm
    requireNoPlan(farm)
    undoBack(connection)
    settleSeason(engine)
    return undoState(connection)
  },
  'undo.forward': (engine) => {
    const { connection } = farmAtHand(engine)
    undoForward(connection)
    settleSeason(engine)
    return undoState(connection)
  },
}
