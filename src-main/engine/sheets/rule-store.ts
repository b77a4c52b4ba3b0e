/** The store of house rules. A subject that can be renamed is kept by id, so that the rule goes on meaning it. */
import { ruleKinds, ruleSchema, type RuleKind } from '../../../src-shared/rule.ts'
import { bound } from './shape.ts'
import type { Store } from './store.ts'
import type { Writer } from './writer.ts'

/** The three columns a subject may stand in; only one is filled. */
function subjectColumns(writer: Writer, rule: RuleKind, subject: unknown) {
  const none = { varietyId: null, threatId: null, subject: null } as Record<string, string | number | null>
  if (subject === undefined || subject === null) return none
  const kind = ruleKinds[rule].subject
  const name = String(subject)
  if (kind === 'threat') return { ...none, threatId: writer.idOf('threat', name) ?? null }
  if (kind === 'variety?') return { ...none, varietyId: writer.idOf('variety', name) ?? null }
  return { ...none, subject: name }
}

interface RuleRow {
  rule: RuleKind
  varietyId: number | null
  threatId: number | null
  subject: string | null
}

export const ruleStore: Store = {
  entries: ruleSchema.entries,
  ids: (writer) =>
    new Set(
      writer.all<{ id: number }>('SELECT id FROM house_rule WHERE seasonId = ?', writer.seasonId).map((row) => row.id),
    ),
  clash(writer, id, values) {
    const [own] = id === null ? [] : writer.all<RuleRow>('SELECT * FROM house_rule WHERE id = ?', id)
    const rule = (values['rule'] ?? own?.rule) as RuleKind
    const { subject } = values
    const kind = ruleKinds[rule].subject
    if (typeof subject === 'string') {
      const table = kind === 'threat' ? 'threat' : kind === 'variety?' ? 'variety' : null
      if (table && writer.idOf(table, subject) === undefined) return `There is no ${table} named “${subject}”`
      if (kind === null) return 'This rule is about the whole farm'
    }
    if (id !== null && !('subject' in values)) return null
    const wanted = subjectColumns(writer, rule, subject)
    const rows = writer.all<RuleRow & { id: number }>(
      'SELECT * FROM house_rule WHERE seasonId = ? AND rule = ?',
      writer.seasonId,
      rule,
    )
    const isTwin = rows.some(
      (row) =>
        row.id !== id &&
        row.varietyId === wanted['varietyId'] &&
        row.threatId === wanted['threatId'] &&
        (row.subject ?? '').toLowerCase() === String(wanted['subject'] ?? '').toLowerCase(),
    )
    return isTwin ? 'The same rule about the same thing is there already' : null
  },
  lacks(writer, id, values) {
    const own = id === null ? undefined : writer.one<RuleKind>('SELECT rule FROM house_rule WHERE id = ?', id)
    const kind = ruleKinds[(values['rule'] ?? own) as RuleKind]
    const isGiven = (path: string) => (id !== null && !(path in values)) || (values[path] ?? null) !== null
    if (kind.unit !== null && !isGiven('amount')) return { path: 'amount', what: 'This rule needs an amount' }
    // A question mark says that it may be about everything.
    const needsSubject = kind.subject !== null && !kind.subject.endsWith('?')
    return needsSubject && !isGiven('subject') ? { path: 'subject', what: `This rule needs a ${kind.subject}` } : null
  },
  insert(writer, values) {
    const { rule, subject, amount, isOn, note } = values
    return writer.insert('house_rule', {
      seasonId: writer.seasonId,
      rule: String(rule),
      ...subjectColumns(writer, rule as RuleKind, subject),
      amount: bound(amount),
      isOn: bound(isOn ?? true),
      note: bound(note),
    })
  },
  update(writer, id, property, _entry, value) {
    if (property !== 'subject') {
      writer.set('house_rule', id, property, bound(value))
      return
    }
    const rule = writer.one<RuleKind>('SELECT rule FROM house_rule WHERE id = ?', id) as RuleKind
    for (const [column, one] of Object.entries(subjectColumns(writer, rule, value)).sort(
      // Emptied first: a row may have only one of the three at any moment.
      ([, a], [, b]) => Number(a !== null) - Number(b !== null),
    )) {
      writer.set('house_rule', id, column, one)
    }
  },
  remove: (writer, id) => writer.remove('house_rule', 'id', id),
}
