/** What the line below the table says of the cell one stands in: why it was refused, its working, or all of a long text. Pure. */
import type { Column } from './columns.ts'
import type { Line } from './lines.ts'
import type { Refused } from './refused.ts'

/** [character] Shorter text is read in the cell. */
const readInCell = 24

export function wordsHere<Row>(
  line: Line<Row> | undefined,
  column: Column<Row> | undefined,
  refused: Refused | undefined,
  /** What a row that is begun still needs. */
  needs: readonly string[],
): { words: string; isWrong: boolean } {
  if (refused)
    return { words: [refused.why, refused.remedy, savedWords(refused)].filter(Boolean).join(' '), isWrong: true }
  if (needs.length > 0) return { words: `Not added yet: needs ${needs.join(', ')}.`, isWrong: false }
  if (!line || !column || line.row === null) return { words: '', isWrong: false }
  const working = column.working?.(line.row)
  if (working) return { words: `${column.label}: ${working}`, isWrong: false }
  const text = column.show(line.row)
  return { words: text.length > readInCell ? text : '', isWrong: false }
}

/** A refused text covers the saved value: it is told, and how to get back to it. */
function savedWords({ saved }: Refused): string {
  if (saved === undefined) return ''
  return saved === '' ? 'Saved: nothing. Press Escape to keep it so.' : `Saved: ${saved}. Press Escape to keep it.`
}
