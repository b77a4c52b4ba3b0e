/** What a pound of peanuts leaves: price by oil type and grade, less what every ton costs to dry and haul. */
import type { Book } from '../assumption.ts'
import type { Variety } from '../variety.ts'
import { figure, rowFigure, type Calculation } from './calculation.ts'

export interface Price {
  /** [$/ton] at the farm's usual grade. */
  perTon: number
  /** [$/ton] more by oil type. */
  premium: Record<Variety['oilType'], number>
  /** [$/ton] drying and hauling. */
  handling: number
}

/** [lb/ton] the short ton. */
export const POUNDS_PER_TON = 2000

export function readPrice(book: Book): Price {
  return {
    perTon: book.number('price/peanuts'),
    premium: { 'high oleic': book.number('price/premium/high oleic'), normal: 0 },
    handling: book.number('harvest/drying and hauling'),
  }
}

/** [$/ton] that a variety brings at its expected grade, before drying and hauling. */
export function dollarsPerTon(price: Price, variety: Pick<Variety, 'oilType' | 'gradeIndex'>): number {
  return (price.perTon + price.premium[variety.oilType]) * variety.gradeIndex
}

/**
 * [$/lb] that a variety leaves, not below 0: what costs more to haul than it brings is not hauled.
 * @returns 520 $/ton at grade 1.01 less 16.80 → 0.2542
 */
export function dollarsPerPound(book: Book, price: Price, variety: Variety, calculation: Calculation): number {
  const premium = price.premium[variety.oilType]
  const terms = [rowFigure(book, 'price/peanuts', 'price at the usual grade', price.perTon)]
  if (variety.oilType === 'high oleic')
    terms.push(rowFigure(book, 'price/premium/high oleic', 'premium for high oleic', premium))
  const base = calculation.line('sum', terms, () => ({ id: 'price/base', label: 'Price by oil type', unit: '$/ton' }))
  const graded = calculation.line(
    'product',
    [figure(base, 'price by oil type', '$/ton'), figure(variety.gradeIndex, () => `grade of ${variety.name}`, '×')],
    () => ({ id: 'price/graded', label: 'Price at the expected grade', unit: '$/ton' }),
  )
  return calculation.line(
    'shortfall over',
    [
      figure(graded, 'price at the expected grade', '$/ton'),
      rowFigure(book, 'harvest/drying and hauling', 'drying and hauling', price.handling),
      figure(POUNDS_PER_TON, 'pounds in a ton', 'lb/ton'),
    ],
    () => ({ id: 'price', label: 'What a pound leaves', unit: '$/lb' }),
  )
}
