/** How the cells of one column are read, with what its table settles together and what was answered. Pure. */
import { daySense, indexSense, sharesSense, unitSense, type Guess } from './cell-sense.ts'
import type { Context } from './context.ts'
import { textOf, type Cell } from './grid.ts'
import { unitOfHeading } from './head-book.ts'
import { figureOf, nameBook, type Sense } from './read-cell.ts'
import type { Scale } from './scales.ts'
import { headsOfThreat } from './threats.ts'
import { plainName } from './tokens.ts'

export interface Scales {
  rating: Scale | null
  level: Scale | null
}

export function senseOf(context: Context, scales: Scales, { at, heading, column }: Guess): Sense {
  const { own, decimals, columnSays, columns, given, book, kindOf } = context
  const { answers, season, threats } = given
  const { noun } = book
  const dayColumns = columns.filter((other) => other.column.reads === 'day' || other.column.reads === 'monthDay')
  const cells = own(at)
  const { factor, says } = unitSense(
    { at, heading, column: column.reads === 'rows' ? { ...column, dimension: 'length', usual: [15, 60] } : column },
    column.reads === 'rows'
      ? cells.filter((cell) => figureOf(cell, { decimals }) !== null && !/^[12]$/.test(textOf(cell)))
      : cells,
    decimals,
  )
  if (says !== null) columnSays[at] = says
  let counted = factor
  if (column.reads === 'count') counted = settleCount(context, at, heading, cells) ?? 0
  const order =
    column.reads === 'day' || column.reads === 'monthDay'
      ? daySense(
          cells,
          dayColumns.filter((other) => other.at !== at).map((other) => own(other.at)),
          answers['days'] === 'mdy' || answers['days'] === 'dmy' ? answers['days'] : undefined,
        )
      : undefined
  const shares =
    column.reads === 'share'
      ? answers[`shares/${heading}`] === 'share' || answers[`shares/${heading}`] === 'percent'
        ? (answers[`shares/${heading}`] as 'share' | 'percent')
        : (sharesSense({ at, heading, column }, cells, decimals) ?? sharesElsewhere(context, at))
      : null
  const names =
    column.reads === 'field'
      ? given.names.fields
      : column.reads === 'variety'
        ? given.names.varieties
        : column.reads === 'dealer'
          ? given.names.dealers
          : column.reads === 'threat'
            ? threats
            : []
  return {
    column,
    heading,
    season,
    isFall: noun === 'load' || noun === 'seen' || noun === 'cost',
    decimals,
    factor: counted,
    shares,
    index: column.reads === 'index' ? indexSense(cells) : 'whole',
    order,
    scale: column.reads === 'rating' ? scales.rating : column.reads === 'level' ? scales.level : null,
    history:
      answers['history order'] === 'newest' || answers['history order'] === 'oldest'
        ? answers['history order']
        : /newest|last year first|recent first/i.test(heading)
          ? 'newest'
          : /oldest first/i.test(heading)
            ? 'oldest'
            : undefined,
    names:
      column.reads === 'threat'
        ? new Map(
            threats.flatMap((threat) =>
              headsOfThreat(threat)
                .split('|')
                .map((alias): [string, string] => [plainName(alias), threat]),
            ),
          )
        : nameBook(names),
    kind: kindOf.get(column.id) ?? null,
    legend: context.legend,
    answers,
  }
}

/** As the other columns of the table are written, where they are and all alike: a workbook keeps all its percents in one way. */
function sharesElsewhere({ columns, own, decimals }: Context, at: number): 'share' | 'percent' | null {
  const others = columns.filter(
    (other) => other.at !== at && other.column.reads === 'share' && own(other.at).length > 0,
  )
  const settled = new Set(
    others.map((other) => sharesSense(other, own(other.at), decimals)).filter((sense) => sense !== null),
  )
  return settled.size === 1 ? ([...settled][0] ?? null) : null
}

/** [per 100 cc] of one that is counted; null: it is not known in how much soil. */
function settleCount(
  { found, given: { answers }, decimals, ask, columnSays }: Context,
  at: number,
  heading: string,
  cells: readonly Cell[],
): number | null {
  const tellCount = (factor: number): number => {
    if (factor !== 1) columnSays[at] = `÷ ${1 / factor} to per 100 cc`
    return factor
  }
  const said = unitOfHeading(heading)?.unit ?? null
  // Some laboratories say it in a column of its own.
  const unitCells = new Set(
    found.rows.flatMap(({ cells: row }) =>
      row.map(textOf).filter((cell) => /^(?:per|\/)?\s*\d{3}\s*(?:cc|cm3|cm³|ml)/i.test(cell)),
    ),
  )
  const text = [heading, ...found.words, ...(unitCells.size === 1 ? unitCells : [])].join(' ')
  const loose = /(100|250|500)\s*(?:cc|cm3|cm³|ml|cm\^3)/i.exec(text)
  if (said?.dimension === 'density') return tellCount(said.factor)
  if (loose) return tellCount(100 / Number(loose[1]))
  const answer = answers[`count/${heading}`]
  if (answer !== undefined) return tellCount(100 / Number(answer))
  if (cells.every((cell) => (figureOf(cell, { decimals })?.value ?? 0) === 0)) return 1
  if (cells.every((cell) => figureOf(cell, { decimals })?.unit?.dimension === 'density')) return 1
  ask(
    {
      key: `count/${heading}`,
      scope: 'table',
      header: heading,
      says: `“${heading}” is counted in how much soil?`,
      answers: ['100', '250', '500'].map((cc) => ({ value: cc, says: `${cc} cc of soil` })),
      suggestion: '100',
    },
    cells.length,
  )
  return null
}
