/** What a pound of peanuts leaves: price by contract or without one, premium and grade, less what a ton costs to dry and haul. */
import type { Book } from '../assumption.ts'
import type { Contract } from '../contract.ts'
import { marketTypes, oilTypes, type Variety } from '../variety.ts'
import { figure, rowFigure, silent, type Calculation, type Figure } from './calculation.ts'

type Sold = Pick<Variety, 'name' | 'marketType' | 'oilType' | 'gradeIndex'>
type Kind = Pick<Variety, 'marketType' | 'oilType'>

export interface Price {
  /** [$/ton] at the farm's usual grade, where no contract applies. */
  perTon: number
  /** [$/ton] more by oil type. */
  premium: Record<Variety['oilType'], number>
  /** [$/ton] drying and hauling. */
  handling: number
  /** The contracts that apply to each market type and oil type; absent: none does. */
  contracts: ReadonlyMap<string, readonly Contract[]>
}

/** [lb/ton] the short ton. */
export const POUNDS_PER_TON = 2000

export function readPrice(book: Book, contracts: readonly Contract[]): Price {
  const kinds = marketTypes.flatMap((marketType) => oilTypes.map((oilType) => ({ marketType, oilType })))
  const applying =
    contracts.length === 0 ? [] : kinds.map((kind) => [keyOf(kind), contractsFor(contracts, kind)] as const)
  return {
    perTon: book.number('price/peanuts'),
    premium: { 'high oleic': book.number('price/premium/high oleic'), normal: 0 },
    handling: book.number('harvest/drying and hauling'),
    contracts: new Map(applying.filter(([, own]) => own.length > 0)),
  }
}

const keyOf = ({ marketType, oilType }: Kind) => `${marketType}/${oilType}`

/**
 * The contracts that a variety's crop is priced by: those that suit its market type and oil type and name the most of them. Of
 * several, one without a limit of tons prices the next ton, so the best paid of these applies; where all are limited, all
 * of them do, by their tons.
 */
export function contractsFor(contracts: readonly Contract[], { marketType, oilType }: Kind): Contract[] {
  const suiting = contracts.filter(
    (contract) => (contract.marketType ?? marketType) === marketType && (contract.oilType ?? oilType) === oilType,
  )
  const named = (contract: Contract) =>
    Number(contract.marketType !== undefined) + Number(contract.oilType !== undefined)
  const most = Math.max(0, ...suiting.map(named))
  const closest = suiting.filter((contract) => named(contract) === most)
  const open = closest.filter(({ tons }) => tons === undefined)
  if (open.length === 0) return closest
  return [open.reduce((best, each) => (paid(each) > paid(best) ? each : best))]
}

/** [cent/ton] */
const paid = ({ perTonCents, premiumCents }: Contract) => perTonCents + premiumCents

/** [$/ton] that a variety brings at its expected grade, before drying and hauling. */
export function dollarsPerTon(book: Book, price: Price, variety: Sold, calculation: Calculation = silent): number {
  const contracts = price.contracts.get(keyOf(variety)) ?? []
  const terms =
    contracts.length === 0
      ? [rowFigure(book, 'price/peanuts', 'price at the usual grade', price.perTon)]
      : contractTerms(contracts, calculation)
  // A contract that names the oil type has its price already.
  if (variety.oilType === 'high oleic' && contracts.every((contract) => contract.oilType === undefined)) {
    terms.push(rowFigure(book, 'price/premium/high oleic', 'premium for high oleic', price.premium['high oleic']))
  }
  const base = calculation.line('sum', terms, () => ({
    id: 'price/base',
    label: contracts.length === 0 ? 'Price by oil type' : 'Price by contract',
    unit: '$/ton',
  }))
  return calculation.line(
    'product',
    [
      figure(base, contracts.length === 0 ? 'price by oil type' : 'price by contract', '$/ton'),
      figure(variety.gradeIndex, () => `grade of ${variety.name}`, '×'),
    ],
    () => ({ id: 'price/graded', label: 'Price at the expected grade', unit: '$/ton' }),
  )
}

/** @param contracts at least one */
function contractTerms(contracts: readonly Contract[], calculation: Calculation): Figure[] {
  const [first, ...others] = contracts
  if (first !== undefined && others.length === 0) {
    const price = figure(first.perTonCents / 100, () => `contract ${first.name}`, '$/ton')
    const { premiumCents } = first
    return premiumCents === 0 ? [price] : [price, figure(premiumCents / 100, 'premium agreed', '$/ton')]
  }
  const mean = calculation.line(
    'mean by weight',
    contracts.flatMap((contract) => [
      figure(paid(contract) / 100, () => `contract ${contract.name} with its premium`, '$/ton'),
      figure(contract.tons ?? 0, () => `tons of ${contract.name}`, 'ton'),
    ]),
    () => ({ id: 'price/contracts', label: 'Mean of the contracts by tons', unit: '$/ton' }),
  )
  return [figure(mean, 'mean of the contracts', '$/ton')]
}

/**
 * [$/lb] that a variety leaves, not below 0: what costs more to haul than it brings is not hauled.
 * @returns 520 $/ton at grade 1.01 less 16.80 → 0.2542
 */
export function dollarsPerPound(book: Book, price: Price, variety: Sold, calculation: Calculation): number {
  const graded = dollarsPerTon(book, price, variety, calculation)
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
