/** A model as a free-format MPS file, for solvers that read no arrays. Names are generated: no user's word goes in. */
import type { ModelArrays } from '../../src-main/engine/plan/linear-model.ts'

export function mpsOf(model: ModelArrays): string {
  const { columns, rows } = model
  const byColumn: string[][] = Array.from({ length: columns }, () => [])
  for (let row = 0; row < rows; row++) {
    for (let k = model.starts[row] as number; k < (model.starts[row + 1] as number); k++) {
      byColumn[model.indices[k] as number]?.push(` r${row} ${model.values[k]}`)
    }
  }
  const kinds: string[] = []
  const right: string[] = []
  const ranges: string[] = []
  for (let row = 0; row < rows; row++) {
    const [low, high] = [model.rowLower[row] as number, model.rowUpper[row] as number]
    const kind = low === high ? 'E' : Number.isFinite(high) ? 'L' : 'G'
    kinds.push(` ${kind} r${row}`)
    const bound = kind === 'G' ? low : high
    if (bound !== 0) right.push(` rhs r${row} ${bound}`)
    if (kind === 'L' && Number.isFinite(low)) ranges.push(` rng r${row} ${high - low}`)
  }
  const lines: string[] = []
  let isMarked = false
  const mark = (to: boolean) => {
    if (to === isMarked) return
    lines.push(` m${lines.length} 'MARKER' '${to ? 'INTORG' : 'INTEND'}'`)
    isMarked = to
  }
  const bounds: string[] = []
  for (let column = 0; column < columns; column++) {
    mark(model.integer[column] === 1)
    const cost = model.cost[column] as number
    if (cost !== 0 || byColumn[column]?.length === 0) lines.push(` c${column} cost ${cost}`)
    for (const entry of byColumn[column] ?? []) lines.push(` c${column}${entry}`)
    const [low, high] = [model.lower[column] as number, model.upper[column] as number]
    if (low === high) bounds.push(` FX bnd c${column} ${low}`)
    else {
      if (low !== 0) bounds.push(` LO bnd c${column} ${low}`)
      // Without a bound of its own a whole-number column would end at 1 for some readers.
      bounds.push(Number.isFinite(high) ? ` UP bnd c${column} ${high}` : ` PL bnd c${column}`)
    }
  }
  mark(false)
  return [
    'NAME model FREE',
    'ROWS',
    ' N cost',
    ...kinds,
    'COLUMNS',
    ...lines,
    'RHS',
    ...right,
    ...(ranges.length > 0 ? ['RANGES', ...ranges] : []),
    'BOUNDS',
    ...bounds,
    'ENDATA',
    '',
  ].join('\n')
}
