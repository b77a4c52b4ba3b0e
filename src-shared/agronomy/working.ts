/**
 * The working behind a number, as data: a value, the terms it is made of, how they are put together, and the same as
 * a formula with the numbers in. A window shows it; a test works every line out again from its terms.
 */
import type { Assumption, Book } from '../assumption.ts'

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

/** How a line's terms make its value; n terms in their order. */
export type WorkingRule =
  | 'product' // t₁ × … × tₙ
  | 'product, at most 1'
  | 'sum' // t₁ + … + tₙ
  | 'over the last' // t₁ × … × tₙ₋₁ / tₙ
  | 'together' // 1 − Π(1 − t)
  | 'shortfall' // max(0, t₁ − t₂) × t₃
  | 'extra hours' // (t₁ − t₂) × t₃
  | 'emergence' // t₁ × (t₂ − t₃ × (t₄ − t₅)), held to 0.05–1
  | 'drop for a stand' // the least drop s with s × emergence(s) = t₁; t₂ … t₅ germination, field, fall, reference
  | 'stand factor' // 1 + t₁ × (t₂ − t₃), held to t₄–t₅

export interface WorkingLine {
  /** Told apart by this within one working, as `loss/spotted wilt`. */
  id: string
  label: string
  value: number
  unit: string
  rule: WorkingRule
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

function formulaText(rule: WorkingRule, terms: readonly WorkingTerm[]): string {
  const numbers = terms.map(({ value }) => (value < 0 ? `(${numberText(value)})` : numberText(value)))
  const at = (index: number) => numbers[index] ?? '0'
  switch (rule) {
    case 'product':
      return numbers.join(' × ')
    case 'product, at most 1':
      return terms.reduce((product, { value }) => product * value, 1) > 1
        ? `at most 1 of ${numbers.join(' × ')}`
        : numbers.join(' × ')
    case 'sum':
      return numbers.join(' + ')
    case 'over the last':
      return `${numbers.slice(0, -1).join(' × ')} / ${at(numbers.length - 1)}`
    case 'together':
      return `1 − ${numbers.map((number) => `(1 − ${number})`).join(' × ')}`
    case 'shortfall':
      return `(${at(0)} − ${at(1)}, not below 0) × ${at(2)}`
    case 'extra hours':
      return `(${at(0)} − ${at(1)}) × ${at(2)}`
    case 'emergence':
      return `${at(0)} × (${at(1)} − ${at(2)} × (${at(3)} − ${at(4)}))`
    case 'drop for a stand':
      return `the drop that leaves ${at(0)} plants a foot at ${at(1)} × (${at(2)} − ${at(3)} × (drop − ${at(4)}))`
    case 'stand factor':
      return `1 + ${at(0)} × (${at(1)} − ${at(2)}), within ${at(3)}–${at(4)}`
  }
}
