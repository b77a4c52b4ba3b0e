/** Which column of a file is which of ours: as it was matched before, else by its name. Pure. */
import type { SheetColumn } from './columns.ts'

/** Headings alike but for capitals, blanks and punctuation are the same. */
export function plainHeading(text: string): string {
  return text
    .toLowerCase()
    .normalize('NFKD')
    .replace(/[^\p{L}\p{N}%$]+/gu, ' ')
    .trim()
}

/** @param before heading → id, as it was matched the last time; null: left out on purpose */
export function matchColumns(
  headers: readonly string[],
  columns: readonly SheetColumn[],
  before: Readonly<Record<string, string | null>>,
): (string | null)[] {
  const byName = new Map<string, string>()
  // Exact names first, so that “yield” as another name never takes the place of a column called so.
  for (const { id, label, unit } of columns) {
    if (unit !== undefined) byName.set(plainHeading(`${label} ${unit}`), id)
  }
  for (const { id, label } of columns) if (!byName.has(plainHeading(label))) byName.set(plainHeading(label), id)
  for (const { id, heads = [] } of columns) {
    for (const head of heads) if (!byName.has(plainHeading(head))) byName.set(plainHeading(head), id)
  }
  const ids = new Set(columns.map(({ id }) => id))
  const used = new Set<string>()
  return headers.map((header) => {
    const heading = plainHeading(header)
    const known = Object.hasOwn(before, heading) ? before[heading] : byName.get(heading)
    if (known === null || known === undefined || !ids.has(known) || used.has(known)) return null
    used.add(known)
    return known
  })
}

/** Whether a pasted block has headings for its first row: two or more of ours, and no more that are not. */
export function isHeaded(block: readonly (readonly string[])[], columns: readonly SheetColumn[]): boolean {
  const heads = (block[0] ?? []).filter((cell) => cell.trim() !== '')
  const known = matchColumns(heads, columns, {}).filter((id) => id !== null).length
  return block.length > 1 && known > 1 && known * 2 >= heads.length
}
