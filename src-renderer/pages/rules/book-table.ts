/** The book as a table to be written out: every row with its default, the farm's own, its range and where both are from. Pure. */
import type { LedgerTopic } from '../../../src-shared/book/ledger.ts'
import type { TableOut } from '../../sheet/table-out.ts'

export function bookTable(topics: readonly LedgerTopic[]): TableOut {
  return {
    headers: [
      'Topic',
      'Row',
      'Default',
      'The farm’s own',
      'Unit',
      'Found from',
      'Found to',
      'Known from',
      'Source',
      'What it bears on',
    ],
    rows: topics.flatMap(({ topic, rows }) =>
      rows.map(({ key, default: usual, own, otherwise, unit, affects }) => {
        const found = own ?? usual
        return [
          topic,
          key,
          usual?.value ?? otherwise,
          own?.value ?? null,
          unit,
          found?.low ?? null,
          found?.high ?? null,
          found?.sourceKind ?? null,
          found?.source || null,
          affects,
        ]
      }),
    ),
  }
}
