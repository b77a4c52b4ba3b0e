/** What sets loads apart: a ticket of one buyer stands once, and a row's weights and grade must be able to be true together. */
import { loadAskew, type Load } from '../../../src-shared/load.ts'
import type { Noun, Store } from './store.ts'
import type { Writer } from './writer.ts'

interface Title {
  ticket: string | null
  buyer: string | null
}

const titles = new WeakMap<Writer, Map<string, number>>()

const textOf = ({ ticket, buyer }: Title) => `${(ticket ?? '').toLowerCase()}\n${(buyer ?? '').toLowerCase()}`

/** Read once a call: a settlement has thousands of loads. Loads without a ticket are not told apart by it. */
function titlesOf(writer: Writer): Map<string, number> {
  let known = titles.get(writer)
  if (!known) {
    const rows = writer.all<Title & { id: number }>(
      'SELECT id, ticket, buyer FROM load WHERE seasonId = ? AND ticket IS NOT NULL',
      writer.seasonId,
    )
    titles.set(writer, (known = new Map(rows.map((row) => [textOf(row), row.id]))))
  }
  return known
}

const numbers = [
  'grossPounds',
  'tarePounds',
  'moisture',
  'foreignMaterial',
  'looseKernels',
  'soundMatureKernels',
  'soundSplits',
  'otherKernels',
  'damagedKernels',
  'hulls',
] as const

function rowOf(writer: Writer, id: number | null): Noun {
  if (id === null) return {}
  return writer.all<Noun>('SELECT * FROM load WHERE id = ?', id)[0] ?? {}
}

export function loadStore(plain: Store): Store {
  return {
    ...plain,
    clash(writer, id, values) {
      if (id !== null && !('ticket' in values) && !('buyer' in values)) return null
      const own = rowOf(writer, id) as Partial<Title>
      const wanted = {
        ticket: ('ticket' in values ? values['ticket'] : own.ticket) as string | null | undefined,
        buyer: ('buyer' in values ? values['buyer'] : own.buyer) as string | null | undefined,
      }
      if (!wanted.ticket) return null
      const other = titlesOf(writer).get(textOf({ ticket: wanted.ticket, buyer: wanted.buyer ?? null }))
      return other === undefined || other === id ? null : `There is a load with the ticket ${wanted.ticket} already`
    },
    askew(writer, id, values) {
      if (id !== null && !numbers.some((name) => name in values)) return null
      const merged = { ...rowOf(writer, id), ...values }
      const given = numbers.flatMap((name) => (typeof merged[name] === 'number' ? [[name, merged[name]]] : []))
      return loadAskew(Object.fromEntries(given) as Partial<Load>)
    },
    insert(writer, values) {
      const known = titlesOf(writer)
      const id = plain.insert(writer, values)
      const { ticket, buyer } = values as Partial<Title>
      if (ticket) known.set(textOf({ ticket, buyer: buyer ?? null }), id)
      return id
    },
    update(writer, id, property, entry, value) {
      // One after the other: the table never has more tare than gross, whichever of the two is written first.
      if (property === 'grossPounds' && typeof value === 'number')
        writer.run('UPDATE load SET tarePounds = min(tarePounds, ?), grossPounds = ? WHERE id = ?', value, value, id)
      else if (property === 'tarePounds' && typeof value === 'number')
        writer.run('UPDATE load SET tarePounds = ?, grossPounds = max(grossPounds, ?) WHERE id = ?', value, value, id)
      else plain.update(writer, id, property, entry, value)
      if (property === 'ticket' || property === 'buyer') titles.delete(writer)
    },
    remove(writer, id) {
      plain.remove(writer, id)
      titles.delete(writer)
    },
  }
}
