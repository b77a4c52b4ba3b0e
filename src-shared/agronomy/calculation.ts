/**
 * One calculation, worked once: it gives the number and, where a person asks, every line of its working with the rows of
 * the assumptions that it read. What the plan counts and what is explained come from the same expression.
 */
import type { Book } from '../assumption.ts'
import { formulas, type FormulaName } from './formula.ts'
import { bookTerm, line, type WorkingLine, type WorkingTerm } from './working.ts'

/** A value and, only when asked, what it is called and where it comes from. */
export interface Figure {
  value: number
  says: () => WorkingTerm
}

/** What a line says of its value. */
export interface About {
  id: string
  label: string
  unit: string
  low?: number
  high?: number
  note?: string | undefined
}

/** A figure that the season has itself, or an earlier line. */
export function figure(value: number, name: string | (() => string), unit: string): Figure {
  return { value, says: () => ({ name: typeof name === 'string' ? name : name(), value, unit }) }
}

/** A row of the assumptions. @param value as counted, where it is not the row's own, as one end of its range */
export function rowFigure(book: Book, key: string, name: string | (() => string), value = book.number(key)): Figure {
  return { value, says: () => bookTerm(book, key, typeof name === 'string' ? name : name(), value) }
}

export class Calculation {
  readonly lines: WorkingLine[] = []
  readonly keepsLines: boolean
  private readonly part: string | null

  /**
   * @param keepsLines false where only numbers are wanted: half a million options are priced in a second or two
   * @param part what a part of the calculation is about; its lines are told apart by it
   */
  constructor(keepsLines: boolean, part: string | null = null) {
    this.keepsLines = keepsLines
    this.part = part
  }

  /** The value of a formula; its line is kept where lines are. */
  line(rule: FormulaName, terms: readonly Figure[], about: () => About): number {
    const value = formulas[rule].of(terms.map((term) => term.value))
    if (!this.keepsLines) return value
    const { id, label, ...rest } = about()
    this.lines.push(
      line({
        ...rest,
        id: this.part === null ? id : `${this.part}/${id}`,
        label: this.part === null ? label : `${label} (${this.part})`,
        value,
        rule,
        terms: terms.map((term) => term.says()),
      }),
    )
    return value
  }

  /** A part with lines of its own, `add`ed when it is done. */
  partOf(part: string): Calculation {
    return new Calculation(this.keepsLines, part)
  }

  add(part: Calculation): void {
    this.lines.push(...part.lines)
  }
}

/** Keeps no line: for numbers alone. */
export const silent = new Calculation(false)
