/**
 * Writes a whole season into a file's tables: how a farm file begins. One transaction, so a season that cannot be
 * stored leaves nothing behind. Reading it back is `plan/gather.ts`.
 */
import type { Measure, Threat } from '../../src-shared/threat.ts'
import { ruleKinds } from '../../src-shared/rule.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import type { Dealer, Quote } from '../../src-shared/quote.ts'
import { checkNames, type Season } from '../../src-shared/season.ts'
import type { Variety } from '../../src-shared/variety.ts'
import type { Field } from '../../src-shared/field.ts'
import type { Connection } from './db/connect.ts'
import { insertRow } from './db/insert.ts'

/** Name → id, for each kind of thing that others refer to. */
interface Ids {
  threat: Map<string, number>
  window: Map<string, number>
  field: Map<string, number>
  variety: Map<string, number>
  dealer: Map<string, number>
}

/**
 * Fills an empty file. Names are checked first; a season that refers to nothing is refused as problems.
 * @returns the id of the season's row
 */
export function storeSeason(connection: Connection, season: Season, isDemo: boolean): number {
  const problems = checkNames(season)
  season.exclusions.forEach((exclusion, e) => {
    if (exclusion.field ?? exclusion.variety ?? exclusion.window) return
    problems.push({
      code: 'missing',
      what: 'An exclusion names no field, variety or window.',
      where: { path: `exclusions[${e}]` },
      remedy: 'Name at least one of them, or remove the exclusion.',
    })
  })
  if (problems.length > 0) throw new ProblemError(problems)
  return connection.transaction(() => storeAll(connection, season, isDemo))()
}

function storeAll(connection: Connection, season: Season, isDemo: boolean): number {
  const farmId = insertRow(connection, 'farm', {
    id: 1,
    ...season.farm,
    isDemo: Number(isDemo),
    createdAt: new Date().toISOString(),
  })
  return storeContents(connection, farmId, season, new Map())
}

/**
 * Adds a season to a farm that has others: ground that is there is taken by its name, its boundary and history left alone.
 * In the caller's transaction. @param ground field name → its id @returns the id of the season's row
 */
export function storeNextSeason(connection: Connection, season: Season, ground: ReadonlyMap<string, number>): number {
  const farmId = connection.prepare('SELECT id FROM farm').pluck().get() as number
  return storeContents(connection, farmId, season, ground)
}

function storeContents(
  connection: Connection,
  farmId: number,
  season: Season,
  ground: ReadonlyMap<string, number>,
): number {
  const seasonId = insertRow(connection, 'season', { farmId, year: season.season })
  const ids: Ids = {
    threat: storeNamed(season.threats, (threat: Threat) => insertRow(connection, 'threat', { seasonId, ...threat })),
    window: storeNamed(season.windows, (window) => insertRow(connection, 'planting_window', { seasonId, ...window })),
    field: new Map(),
    variety: new Map(),
    dealer: new Map(),
  }
  for (const week of season.weeks) insertRow(connection, 'season_week', { seasonId, ...week })
  for (const machine of season.machines) insertRow(connection, 'machine', { seasonId, ...machine })
  for (const contract of season.contracts) insertRow(connection, 'contract', { seasonId, ...contract })
  for (const measure of season.measures) storeMeasure(connection, seasonId, ids, measure)
  ids.variety = storeNamed(season.varieties, (variety) => storeVariety(connection, seasonId, ids, variety))
  ids.field = storeNamed(season.fields, (field) =>
    storeField(connection, farmId, seasonId, ids, field, ground.get(field.name)),
  )
  ids.dealer = storeNamed(season.dealers, (dealer) => storeDealer(connection, seasonId, dealer))
  for (const quote of season.quotes) storeQuote(connection, seasonId, ids, quote)
  storeCarriedAndRules(connection, seasonId, ids, season)
  storeAssumptions(connection, seasonId, season)
  storeHeld(connection, seasonId, ids, season)
  return seasonId
}

function storeNamed<Thing extends { name: string }>(things: readonly Thing[], store: (thing: Thing) => number) {
  return new Map(things.map((thing) => [thing.name, store(thing)]))
}

function idOf(ids: Map<string, number>, name: string): number {
  const id = ids.get(name)
  if (id === undefined) throw new Error(`${name} was not stored: names are checked before.`)
  return id
}

function storeMeasure(connection: Connection, seasonId: number, ids: Ids, measure: Measure): void {
  const { efficacy, isPesticide, ...plain } = measure
  const measureId = insertRow(connection, 'measure', { seasonId, ...plain, isPesticide: Number(isPesticide) })
  for (const [threat, share] of Object.entries(efficacy)) {
    insertRow(connection, 'measure_efficacy', { measureId, threatId: idOf(ids.threat, threat), share })
  }
}

function storeVariety(connection: Connection, seasonId: number, ids: Ids, variety: Variety): number {
  const { ratings, isTreated, ...plain } = variety
  const varietyId = insertRow(connection, 'variety', { seasonId, ...plain, isTreated: Number(isTreated) })
  for (const [threat, rating] of Object.entries(ratings)) {
    insertRow(connection, 'rating', { varietyId, threatId: idOf(ids.threat, threat), rating })
  }
  return varietyId
}

/** @returns the id of the field's season, which is what locks and exclusions refer to */
function storeField(
  connection: Connection,
  farmId: number,
  seasonId: number,
  ids: Ids,
  field: Field,
  ground: number | undefined,
): number {
  const { name, boundary, history, pressure, windows, drop, split, rests, ...plain } = field
  const fieldId = ground ?? insertRow(connection, 'field', { farmId, name })
  const dropPerFoot = drop?.kind === 'fixed' ? drop.seedsPerFoot : drop?.plantsPerFoot
  const fieldSeasonId = insertRow(connection, 'field_season', {
    fieldId,
    seasonId,
    ...plain,
    rests: Number(rests),
    dropKind: drop?.kind,
    dropPerFoot,
    ...split,
  })
  if (ground === undefined) {
    if (boundary) insertRow(connection, 'field_boundary', { fieldId, geometry: JSON.stringify(boundary) })
    for (const { season, crop } of history) insertRow(connection, 'crop_history', { fieldId, year: season, crop })
  }
  for (const [threat, level] of Object.entries(pressure)) {
    insertRow(connection, 'field_pressure', { fieldSeasonId, threatId: idOf(ids.threat, threat), level })
  }
  for (const window of new Set(windows)) {
    insertRow(connection, 'field_window', { fieldSeasonId, windowId: idOf(ids.window, window) })
  }
  return fieldSeasonId
}

function storeDealer(connection: Connection, seasonId: number, dealer: Dealer): number {
  const { breaks, ...plain } = dealer
  const dealerId = insertRow(connection, 'dealer', { seasonId, ...plain })
  for (const dealerBreak of breaks) insertRow(connection, 'dealer_break', { dealerId, ...dealerBreak })
  return dealerId
}

function storeQuote(connection: Connection, seasonId: number, ids: Ids, quote: Quote): void {
  const { dealer, variety, breaks, ...plain } = quote
  const dealerId = idOf(ids.dealer, dealer)
  const quoteId = insertRow(connection, 'quote', {
    seasonId,
    dealerId,
    varietyId: idOf(ids.variety, variety),
    ...plain,
  })
  for (const quoteBreak of breaks) insertRow(connection, 'quote_break', { quoteId, ...quoteBreak })
}

function storeCarriedAndRules(connection: Connection, seasonId: number, ids: Ids, season: Season): void {
  for (const { variety, mustUse, isOwnGrown, ...plain } of season.carried) {
    const flags = { mustUse: Number(mustUse), isOwnGrown: Number(isOwnGrown) }
    insertRow(connection, 'carried_seed', { seasonId, varietyId: idOf(ids.variety, variety), ...plain, ...flags })
  }
  for (const { subject, isOn, ...plain } of season.rules) {
    // By id where the subject can be renamed, so that the rule goes on meaning it.
    const kind = ruleKinds[plain.rule].subject
    const named =
      subject === undefined
        ? {}
        : kind === 'threat'
          ? { threatId: idOf(ids.threat, subject) }
          : kind === 'variety?'
            ? { varietyId: idOf(ids.variety, subject) }
            : { subject }
    insertRow(connection, 'house_rule', { seasonId, ...plain, ...named, isOn: Number(isOn) })
  }
}

function storeAssumptions(connection: Connection, seasonId: number, season: Season): void {
  // Of two rows with one key the later holds, as in the Book.
  const byKey = new Map(season.assumptions.map((row) => [row.key, row]))
  for (const { value, ...plain } of byKey.values()) {
    const stored = typeof value === 'number' ? { numberValue: value } : { wordValue: value }
    insertRow(connection, 'assumption', { seasonId, ...plain, ...stored })
  }
}

function storeHeld(connection: Connection, seasonId: number, ids: Ids, season: Season): void {
  const maybe = (kind: Map<string, number>, name: string | undefined) =>
    name === undefined ? undefined : idOf(kind, name)
  for (const { field, variety, window, week } of season.locks) {
    insertRow(connection, 'field_lock', {
      fieldSeasonId: idOf(ids.field, field),
      varietyId: idOf(ids.variety, variety),
      windowId: maybe(ids.window, window),
      week,
    })
  }
  for (const { field, variety, window } of season.exclusions) {
    insertRow(connection, 'exclusion', {
      seasonId,
      fieldSeasonId: maybe(ids.field, field),
      varietyId: maybe(ids.variety, variety),
      windowId: maybe(ids.window, window),
    })
  }
}
