/** Working of an option's expected losses: B × S × factors × what the measures leave, threat by threat. */
import type { Field } from '../field.ts'
import type { Measure } from '../threat.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import type { Context } from './context.ts'
import { caseOf, type Ground } from './ground.ts'
import { combineLosses, factorsOf, lossRange, shareAt, standFactor, type ThreatCase } from './threat.ts'
import { lossKeys, shareKey, type ThreatTable } from './threat-table.ts'
import { vineKey } from './vine.ts'
import { bookTerm, line, term, type WorkingLine, type WorkingTerm } from './working.ts'

/** @param stand [plants/ft] that the drop leaves @param yieldDollars [$/acre] of a crop that nothing ails */
export function explainLoss(
  context: Context,
  ground: Pick<Ground, 'levels' | 'yearsOut'>,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
  programme: readonly Measure[],
  stand: number,
  yieldDollars: number,
): { lines: WorkingLine[]; losses: number[]; share: number; dollars: number } {
  const lines: WorkingLine[] = []
  const ranges = context.threats.map((table, t) => {
    const at = caseOf(context, ground, t, field, variety, window, stand)
    lines.push(...explainThreat(context, table, at, field, variety, programme))
    return lossRange(table, at, efficaciesOf(programme, table.name))
  })
  const losses = ranges.map((range) => range.usual)
  const share = combineLosses(losses)
  const low = combineLosses(ranges.map((range) => range.low))
  const high = combineLosses(ranges.map((range) => range.high))
  lines.push(
    line({
      id: 'loss',
      label: 'Expected loss to all threats together',
      value: share,
      unit: 'share of yield',
      rule: 'together',
      terms: context.threats.map((table, t) => term(table.name, losses[t] as number, 'share of yield')),
      low,
      high,
    }),
    line({
      id: 'loss dollars',
      label: 'Expected loss in dollars',
      value: share * yieldDollars,
      unit: '$/acre',
      rule: 'product',
      terms: [term('expected loss', share, 'share of yield'), term('crop', yieldDollars, '$/acre')],
      low: low * yieldDollars,
      high: high * yieldDollars,
    }),
  )
  return { lines, losses, share, dollars: share * yieldDollars }
}

function efficaciesOf(programme: readonly Measure[], threat: string): number[] {
  return programme.map((measure) => measure.efficacy[threat] ?? 0)
}

function explainThreat(
  context: Context,
  table: ThreatTable,
  at: ThreatCase,
  field: Field,
  variety: Variety,
  programme: readonly Measure[],
): WorkingLine[] {
  const { book } = context
  const lines: WorkingLine[] = []
  const terms: WorkingTerm[] = []

  // B: one row, or severity × slope; nothing where the book has no row.
  const keys = lossKeys(book.rows, table.name, at.level)
  if (keys.length === 0) terms.push(term(`${at.level} pressure: the book has no loss for it`, 0, 'share of yield'))
  for (const key of keys)
    terms.push(bookTerm(book, key, key.endsWith('slope') ? 'loss by severity' : `${at.level} pressure`))

  const rated =
    variety.ratings[table.name] === undefined
      ? `${variety.name} is not rated: taken as ${at.rating}`
      : `${variety.name} rated ${at.rating}`
  const own = shareKey(book.rows, table.name, at.rating)
  terms.push(Number.isInteger(at.rating) ? bookTerm(book, own, rated) : term(rated, shareAt(table, at.rating), 'share'))

  for (const factor of factorsOf(table, at)) {
    if (factor.name === 'stand' && factor.key !== null) {
      const value = standFactor(table, at.rows, at.stand)
      lines.push(
        line({
          id: `stand factor/${table.name}`,
          label: `What the stand does to ${table.name}`,
          value,
          unit: '×',
          rule: 'stand factor',
          terms: [
            bookTerm(book, factor.key, 'for each missing plant a foot'),
            bookTerm(book, 'stand/reference', 'reference stand'),
            term('stand', at.stand, 'plants/ft'),
            bookTerm(book, 'stand/effect/least', 'least effect'),
            bookTerm(book, 'stand/effect/most', 'most effect'),
          ],
        }),
      )
      terms.push(term('stand', value, '×'))
    } else terms.push(bookTerm(book, factor.key ?? vineKey(variety.vine, field.growth, 'leaf disease'), factor.name))
  }
  for (const measure of programme) {
    const efficacy = measure.efficacy[table.name] ?? 0
    if (efficacy === 0) continue
    const source = measure.source === undefined ? {} : { source: measure.source }
    terms.push({ ...term(`what ${measure.name} leaves (1 − ${efficacy})`, 1 - efficacy, '×'), ...source })
  }
  const { low, usual, high } = lossRange(table, at, efficaciesOf(programme, table.name))
  lines.push(
    line({
      id: `loss/${table.name}`,
      label: `Expected loss to ${table.name}`,
      value: usual,
      unit: 'share of yield',
      rule: 'product, at most 1',
      terms,
      ...(low < high ? { low, high } : {}),
    }),
  )
  return lines
}
