/** What calls are made of: the ids and names of the farm at hand, days of its year, files, and keys that only the farm knows. */
import type { TestEngine } from '../support/engine.ts'
import type { Pool } from './call-arguments.ts'

const base64 = (text: string) => Buffer.from(text).toString('base64')

/** The least that is a JPEG picture by its first bytes. */
const picture = {
  name: 'tag.jpg',
  base64: Buffer.concat([Buffer.from('ffd8ffe000104a46494600', 'hex'), Buffer.alloc(500, 7)]).toString('base64'),
}

const ring = [[[-83, 31], [-82.99, 31], [-82.99, 31.01], [-83, 31.01], [-83, 31]]] // prettier-ignore

/** @param year of whose days most are */
export async function poolOf(host: TestEngine, year: number): Promise<Pool> {
  const { connection } = host.engine.farm!
  const tables = connection
    .prepare(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite%'`)
    .pluck()
    .all() as string[]
  const idsOf = (table: string) =>
    connection.prepare(`SELECT id FROM "${table}" ORDER BY id DESC LIMIT 60`).pluck().all() as number[]
  const namesOf = (table: string) =>
    connection.prepare(`SELECT name FROM "${table}" LIMIT 60`).pluck().all() as string[]
  const ids = Object.fromEntries(tables.map((table) => [table, idsOf(table)]))
  const seasonId = host.engine.farm!.seasonId
  const own = (table: string) =>
    connection.prepare(`SELECT id FROM "${table}" WHERE seasonId = ?`).pluck().all(seasonId) as number[]
  const [fields, varieties, windows, measures] = [
    namesOf('field'),
    namesOf('variety'),
    namesOf('planting_window'),
    namesOf('measure'),
  ]
  const valueOf = async (name: string, input: object = {}) => {
    const reply = (await host.server.call(name, input)) as { ok: boolean; value?: unknown }
    return reply.ok ? reply.value : undefined
  }
  const keys = (rows: unknown, key = 'key') =>
    [...JSON.stringify(rows ?? null).matchAll(new RegExp(`"${key}":"([^"\\\\]+)"`, 'g'))].map(([, value]) => value)
  const fieldIds = own('field_season')
  const csv = `Field,Acres,Water,Yield goal\n${fields[0] ?? 'A'},${(seasonId + 3) % 90},dryland,4100\nNew ${fields.length},40,irrigated,4500\n`
  const file = { name: 'fields.csv', base64: base64(csv) }
  const geo = (name: string) => ({
    type: 'Feature',
    properties: { name },
    geometry: { type: 'Polygon', coordinates: ring },
  })
  const map = {
    name: 'map.geojson',
    base64: base64(JSON.stringify({ type: 'FeatureCollection', features: [geo(fields[0] ?? 'A')] })),
  }
  const copy = (await valueOf('farm.copyOut')) as { base64: string } | undefined
  const backups = keys(await valueOf('backup.list'), 'fileName')
  return {
    ids: {
      ...ids,
      field: [...fieldIds, ...(ids['field'] ?? [])],
      line: ids['order_line'] ?? [],
      lines: ids['order_line'] ?? [],
      orders: ids['purchase_order'] ?? [],
      order: ids['purchase_order'] ?? [],
      tag: ids['tag_photo'] ?? [],
      test: ids['germination_test'] ?? [],
      stand: ids['stand_count'] ?? [],
      carriedSeed: ids['carried_seed'] ?? [],
    },
    names: [...fields, ...varieties, ...windows, ...namesOf('dealer'), ...namesOf('threat'), 'New name'],
    days: [
      `${year}-12-10`,
      `${year}-04-10`,
      `${year}-05-02`,
      `${year}-05-20`,
      `${year}-09-20`,
      `${year + 1}-01-20`,
      '2027-04-28',
    ],
    given: {
      seconds: [1],
      gap: [0.05],
      between: [1, 2],
      choicesPerField: [1],
      today: [`${year + 1}-01-20`, '2027-11-20'],
      field: fields,
      variety: varieties,
      window: windows,
      seasonId: [undefined, seasonId],
      'farm.openDemo/today': ['2027-01-20'],
      'farm.bringIn/file': copy ? [{ name: 'Brought.farm', base64: copy.base64 }] : [],
      'farm.bringPiece/base64': copy ? [copy.base64] : [],
      'farm.bringPiece/after': [null],
      'plan.adoptPoint/point': [0, 1],
      'farm.open/fileName': ['Creek.farm', 'Other.farm'],
      'farm.openToRead/fileName': ['Creek.farm'],
      'farm.rename/name': ['Creek'],
      'backup.restore/backup': backups,
      'backup.restore/fileName': ['Creek.farm'],
      'backup.list/fileName': ['Creek.farm', 'Other.farm'],
      'import.look/files': [[file]],
      'import.apply/files': [[file]],
      'import.look/choices': [{}],
      'import.apply/choices': [{}],
      'import.forget/key': [null],
      'boundary.look/file': [map],
      'boundary.apply/file': [map],
      'tag.addPhoto/file': [picture],
      'book.set/key': keys(await valueOf('book.list')),
      'book.reset/key': keys(await valueOf('book.list')),
      'book.bearing/key': keys(await valueOf('book.list')),
      'lesson.take/key': keys(await valueOf('lesson.list')),
      'lesson.setAside/key': keys(await valueOf('lesson.list')),
      'option.explain/programme': [[], ...measures.map((name) => [name])],
      'option.rates/programme': [[], ...measures.map((name) => [name])],
      'region.take/rows': [
        [],
        [
          {
            sheet: 'window',
            values: { name: 'Usual', kind: 'usual', opens: '05-01', closes: '05-31' },
          },
        ],
      ],
      'region.take/book': [[], [{ key: 'price/peanuts', value: 510 }]],
      'season.open/id': ids['season'] ?? [],
      'sheet.change/cells': [
        ...fieldIds
          .slice(0, 5)
          .flatMap((id) => [[{ id, path: 'note', value: 'seen' }], [{ id, path: 'acres', value: 41.5 }]]),
        [],
      ],
      'sheet.change/sheet': ['field', 'field', 'variety', 'quote', 'load'],
      'sheet.change/removed': [[], [], fieldIds.slice(0, 1)],
      'sheet.change/added': [
        [],
        [
          {
            key: -1,
            values: {
              name: `Field ${fields.length} ${fieldIds.length}`,
              acres: 12,
              water: 'dryland',
              yieldGoalLb: 4000,
            },
          },
        ],
      ],
    },
  }
}
