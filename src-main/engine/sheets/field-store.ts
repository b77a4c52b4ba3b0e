/** The store of fields: ground that stays over the seasons, and what is said of it in this one. */
import { fieldSchema, type Drop } from '../../../src-shared/field.ts'
import { bound, putEntry, takenName, threatId, unbound } from './shape.ts'
import type { Noun, Store } from './store.ts'
import type { Writer } from './writer.ts'

const pressure = { table: 'field_pressure', owner: 'fieldSeasonId', value: 'level' }

/** Id of what is said of the ground this season. */
function seasonRow(writer: Writer, fieldId: number): number {
  const id = writer.one<number>(
    'SELECT id FROM field_season WHERE seasonId = ? AND fieldId = ?',
    writer.seasonId,
    fieldId,
  )
  if (id === undefined) throw new Error('The field is not in this season: ids are checked before.')
  return id
}

function putHistory(writer: Writer, fieldId: number, history: unknown, isNew = false) {
  if (!isNew) writer.remove('crop_history', 'fieldId', fieldId)
  const crops = (history ?? []) as { season: number; crop: string }[]
  writer.insertAll(
    'crop_history',
    ['fieldId', 'year', 'crop'],
    crops.map(({ season, crop }) => [fieldId, season, crop]),
  )
}

function putWindows(writer: Writer, fieldSeasonId: number, windows: unknown, isNew = false) {
  if (!isNew) writer.remove('field_window', 'fieldSeasonId', fieldSeasonId)
  const ids = ((windows ?? []) as string[]).map((name) => writer.idOf('planting_window', name) as number)
  const rows = [...new Set(ids)].map((windowId) => [fieldSeasonId, windowId])
  writer.insertAll('field_window', ['fieldSeasonId', 'windowId'], rows)
}

function dropColumns(drop: unknown): { dropKind: string | null; dropPerFoot: number | null } {
  const own = (drop ?? null) as Drop | null
  if (own === null) return { dropKind: null, dropPerFoot: null }
  return { dropKind: own.kind, dropPerFoot: own.kind === 'fixed' ? own.seedsPerFoot : own.plantsPerFoot }
}

/** Both or neither: with one of the two typed the other is the least that it can mean. */
function putSplit(writer: Writer, id: number, entry: string | null, value: unknown) {
  const set = (blocks: number | null, most: number | null) =>
    writer.run('UPDATE field_season SET leastBlockAcres = ?, mostVarieties = ? WHERE id = ?', blocks, most, id)
  if (entry === null) {
    const whole = value as { leastBlockAcres: number; mostVarieties: number } | null
    set(whole?.leastBlockAcres ?? null, whole?.mostVarieties ?? null)
    return
  }
  const [now] = writer.all<{ leastBlockAcres: number | null; mostVarieties: number | null }>(
    'SELECT leastBlockAcres, mostVarieties FROM field_season WHERE id = ?',
    id,
  )
  if (entry === 'mostVarieties') {
    if (value === null) set(null, null)
    else set(now?.leastBlockAcres ?? 0, Number(value))
  } else if (value !== null) set(Number(value), now?.mostVarieties ?? 2)
  else if (now?.mostVarieties !== null) set(0, now?.mostVarieties ?? 2)
}

/** Those that are tables below, or two columns. */
const compound = ['name', 'boundary', 'history', 'pressure', 'windows', 'drop', 'split']

export const fieldStore: Store = {
  entries: fieldSchema.entries,
  plain: {
    names: new Set(Object.keys(fieldSchema.entries).filter((property) => !compound.includes(property))),
    value: (writer, id, property) =>
      unbound(
        (fieldSchema.entries as Store['entries'])[property],
        writer.one(`SELECT "${property}" FROM field_season WHERE id = ?`, seasonRow(writer, id)),
      ),
  },
  start: { rowSpacingIn: 36, rowPattern: 'single' },
  ids: (writer) =>
    new Set(
      writer
        .all<{ fieldId: number }>('SELECT fieldId FROM field_season WHERE seasonId = ?', writer.seasonId)
        .map((row) => row.fieldId),
    ),
  clash(writer, id, values) {
    const said = takenName(writer, 'field', id, values)
    if (said === null || id !== null) return said
    // Ground of an earlier season comes back under its name: that is no clash.
    const ground = writer.idOf('field', String(values['name'])) as number
    const isHere = writer.one('SELECT 1 FROM field_season WHERE seasonId = ? AND fieldId = ?', writer.seasonId, ground)
    return isHere === undefined ? null : said
  },
  insert(writer, values) {
    const { name, boundary, history, pressure: levels, windows, drop, split, ...plain } = values
    let fieldId = writer.idOf('field', String(name))
    const isNew = fieldId === undefined
    if (fieldId === undefined) {
      fieldId = writer.insert('field', { farmId: 1, name: String(name) })
      writer.noteNew('field', fieldId, String(name))
    }
    const pair = (split ?? {}) as { leastBlockAcres?: number; mostVarieties?: number }
    const fieldSeasonId = writer.insert('field_season', {
      fieldId,
      seasonId: writer.seasonId,
      ...Object.fromEntries(Object.entries(plain).map(([property, value]) => [property, bound(value)])),
      ...dropColumns(drop),
      leastBlockAcres: pair.leastBlockAcres ?? null,
      mostVarieties: pair.mostVarieties ?? null,
    })
    if (boundary) putBoundary(writer, fieldId, boundary)
    const crops = (history ?? []) as unknown[]
    if (crops.length > 0) putHistory(writer, fieldId, crops, isNew)
    const pressures = Object.entries((levels ?? {}) as Noun)
    writer.insertAll(
      'field_pressure',
      ['fieldSeasonId', 'threatId', 'level'],
      pressures.map(([threat, level]) => [fieldSeasonId, threatId(writer, threat), bound(level)]),
    )
    if (((windows ?? []) as unknown[]).length > 0) putWindows(writer, fieldSeasonId, windows, true)
    return fieldId
  },
  update(writer, id, property, entry, value) {
    const here = seasonRow(writer, id)
    if (property === 'name') {
      writer.set('field', id, 'name', String(value))
      writer.noteName('field', id, String(value))
    } else if (property === 'pressure' && entry !== null) putEntry(writer, pressure, here, entry, bound(value))
    else if (property === 'history') putHistory(writer, id, value)
    else if (property === 'windows') putWindows(writer, here, value)
    else if (property === 'boundary') putBoundary(writer, id, value)
    else if (property === 'split') putSplit(writer, here, entry, value)
    else if (property === 'drop') {
      const { dropKind, dropPerFoot } = dropColumns(value)
      writer.run('UPDATE field_season SET dropKind = ?, dropPerFoot = ? WHERE id = ?', dropKind, dropPerFoot, here)
    } else writer.set('field_season', here, property, bound(value))
  },
  remove(writer, id) {
    writer.run('DELETE FROM field_season WHERE seasonId = ? AND fieldId = ?', writer.seasonId, id)
    // Ground with other seasons keeps them, its history and its boundary.
    const isElsewhere = writer.one('SELECT 1 FROM field_season WHERE fieldId = ? LIMIT 1', id)
    if (isElsewhere !== undefined) return
    writer.remove('field', 'id', id)
    writer.noteName('field', id, null)
  },
}

function putBoundary(writer: Writer, fieldId: number, boundary: unknown) {
  writer.remove('field_boundary', 'fieldId', fieldId)
  if (boundary !== null) writer.insert('field_boundary', { fieldId, geometry: JSON.stringify(boundary) })
}
