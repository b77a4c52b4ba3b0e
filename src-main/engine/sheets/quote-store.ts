/** What sets quotes apart: no two of one dealer and variety may have one name, whichever of the three is changed. */
import type { Store } from './store.ts'
import type { Writer } from './writer.ts'

interface Title {
  dealerId: number
  varietyId: number
  name: string | null
}

const titles = new WeakMap<Writer, Map<number, Title>>()

/** Read once a call: a paste of many quotes asks for each of them. */
function titlesOf(writer: Writer): Map<number, Title> {
  let known = titles.get(writer)
  if (!known) {
    const rows = writer.all<Title & { id: number }>(
      'SELECT id, dealerId, varietyId, name FROM quote WHERE seasonId = ?',
      writer.seasonId,
    )
    known = new Map(rows.map(({ id, ...title }) => [id, title]))
    titles.set(writer, known)
  }
  return known
}

const textOf = ({ dealerId, varietyId, name }: Title) => `${dealerId}/${varietyId}/${(name ?? '').toLowerCase()}`
const indices = new WeakMap<Map<number, Title>, Map<string, number>>()

function indexOf(known: Map<number, Title>): Map<string, number> {
  let index = indices.get(known)
  if (!index) {
    index = new Map([...known].map(([id, title]) => [textOf(title), id]))
    indices.set(known, index)
  }
  return index
}

function wanted(writer: Writer, id: number | null, values: Record<string, unknown>): Title {
  const own = id === null ? undefined : titlesOf(writer).get(id)
  const idOf = (table: 'dealer' | 'variety', before: number | undefined) =>
    typeof values[table] === 'string' ? (writer.idOf(table, values[table]) ?? -1) : (before ?? -1)
  return {
    dealerId: idOf('dealer', own?.dealerId),
    varietyId: idOf('variety', own?.varietyId),
    name: 'name' in values ? ((values['name'] ?? null) as string | null) : (own?.name ?? null),
  }
}

export function quoteStore(plain: Store): Store {
  return {
    ...plain,
    clash(writer, id, values) {
      const other = indexOf(titlesOf(writer)).get(textOf(wanted(writer, id, values)))
      return other === undefined || other === id
        ? null
        : 'This dealer has another quote for the variety under that name'
    },
    insert(writer, values) {
      const title = wanted(writer, null, values)
      const known = titlesOf(writer)
      const id = plain.insert(writer, values)
      known.set(id, title)
      indexOf(known).set(textOf(title), id)
      return id
    },
    update(writer, id, property, entry, value) {
      plain.update(writer, id, property, entry, value)
      if (property !== 'dealer' && property !== 'variety' && property !== 'name') return
      const known = titlesOf(writer)
      const title = wanted(writer, id, { [property]: value })
      indexOf(known).delete(textOf(known.get(id) ?? title))
      known.set(id, title)
      indexOf(known).set(textOf(title), id)
    },
    remove(writer, id) {
      plain.remove(writer, id)
      titles.delete(writer)
    },
  }
}
