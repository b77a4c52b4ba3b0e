/**
 * The working behind a number, as data: a value, the terms it is made of, how they are put together, and the same as
 * a formula with the numbers in. A window shows it; a test works every line out again from its terms.
 */
import type { Assumption, Book } from '../assumption.ts'
import { formulas, type FormulaName } from './formula.ts'

/** One number in a formula. */
export interface WorkingTerm {
  name: string
  value: number
  unit: string
  /** Row of the book it stands in, if it is one that can be changed there. */
  key?: string
  /** Where it comes from, as the row or the measure says. */
  source?: string
  sourceKind?: Assumption['sourceKind']
}

export interface WorkingLine {
  /** Told apart by this within one working, as `loss/spotted wilt`. */
  id: string
  label: string
  value: number
  unit: string
  rule: FormulaName
  terms: WorkingTerm[]
  /** With the numbers in: `0.123 × 0.55 × 1.6 = 0.108`. */
  formula: string
  /** Where the book gives a range: the value at its ends. */
  low?: number
  high?: number
  note?: string
}

/** A term that is a row of the book, with its source. */
export function bookTerm(book: Book, key: string, name: string, value = book.number(key)): WorkingTerm {
  const { unit, source, sourceKind } = book.row(key)
  return { name, value, unit, key, source, sourceKind }
}

/** A term that the season has itself: a field's, a variety's or a machine's own figure, or an earlier line. */
export function term(name: string, value: number, unit: string): WorkingTerm {
  return { name, value, unit }
}

/** A line with its formula written out. */
export function line(parts: Omit<WorkingLine, 'formula'>): WorkingLine {
  return {
    ...parts,
    formula: `${formulaText(parts.rule, parts.terms)} = ${numberText(parts.value)} ${parts.unit}`.trim(),
  }
}

/** Four figures, without a tail of noughts: enough to follow by hand, never used to reckon on. */
export function numberText(value: number): string {
  if (Math.abs(value) >= 1000) return Math.round(value).toLocaleString('en-US').replace('-', '−')
  const text = value === 0 ? '0' : String(Number(value.toPrecision(4)))
  return text.replace('-', '−')
}

function formulaText(rule: FormulaName, terms: readonly WorkingTerm[]): string {
  const figures = terms.map(({ value }) => (value < 0 ? `(${numberText(value)})` : numberText(value)))
  return formulas[rule].says(
    figures,
    terms.map(({ value }) => value),
  )
}
