/** Seed on hand as it is counted in a barn, so many bags of so many pounds → pounds. Pure. */
import type { CellValue } from '../sheet/sheet.ts'
import type { Context, ReadRow } from './context.ts'
import { textOf } from './grid.ts'

/** Bags times what one holds, where no column gives the pounds of the row; asked for where nothing says what a bag holds. */
export function countPounds(context: Context, out: ReadRow) {
  const { columns, found, given, ask } = context
  const record = out.records[0] as Record<string, CellValue>
  const { packs, packPounds } = record
  delete record['packs']
  delete record['packPounds']
  if (typeof packs !== 'number' || record['pounds'] !== undefined) return
  const at = columns.find(({ column }) => column.id === 'packs')?.at ?? -1
  const answer = Number(given.answers['pack pounds'])
  const said = [found.headings[at] ?? '', textOf(out.cells[at] ?? ''), ...found.words]
    .map((text) => Number(/(\d[\d,]*)\s*(?:lbs?\b|#|pounds?\b)/i.exec(text)?.[1]?.replaceAll(',', '')))
    .find((pounds) => pounds >= 20 && pounds <= 2500)
  const each = typeof packPounds === 'number' ? packPounds : (said ?? (answer > 0 ? answer : null))
  if (each === null) {
    ask({
      key: 'pack pounds',
      scope: 'table',
      header: found.headings[at] ?? '',
      says: 'No column says how many pounds a bag holds. How many are in one of these?',
      answers: [
        { value: '50', says: 'bags of 50 lb' },
        { value: '2000', says: 'totes of 2,000 lb' },
      ],
      suggestion: '50',
    })
    return
  }
  record['pounds'] = packs * each
  out.places['pounds'] = at
  out.says.push({ at, what: `${packs} × ${each} lb → ${packs * each} lb` })
}
