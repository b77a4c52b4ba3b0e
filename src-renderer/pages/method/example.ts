/**
 * One invented field reckoned through the same functions that a plan is made with, by the starting values of the house
 * book: no figure on the page is typed in, so that the page and the program cannot differ. Reckoned when it is asked for.
 */
import { sourceKinds, type Assumption } from '../../../src-shared/assumption.ts'
import { contextOf, type Context } from '../../../src-shared/agronomy/context.ts'
import { explain } from '../../../src-shared/agronomy/explain.ts'
import { loanCentsPerTon, netWeight, poundsPerTon } from '../../../src-shared/agronomy/load-value.ts'
import { lotRate } from '../../../src-shared/agronomy/lot-rate.ts'
import { houseReserve, needVariation, variationOf } from '../../../src-shared/agronomy/reserve.ts'
import { packsFor } from '../../../src-shared/agronomy/seed.ts'
import { seedVariances, varianceParts } from '../../../src-shared/agronomy/seed-variance.ts'
import { bookTerm, line, numberText, term } from '../../../src-shared/agronomy/working.ts'
import type { FormulaName } from '../../../src-shared/agronomy/formula.ts'
import type { WorkingLine, WorkingTerm } from '../../../src-shared/agronomy/working.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { placingCosts } from '../../../src-shared/lot-placing.ts'
import { offCentsAt, tierAt } from '../../../src-shared/price-break.ts'
import { lessonWorth, movedTo, weightOf } from '../../../src-shared/review/lesson.ts'
import { stepNames } from '../../../src-shared/review/words.ts'
import { ruleOf } from '../../../src-shared/rule.ts'
import { showCents, showChange, showPercent, showWhole } from '../../../src-shared/show.ts'
import { exampleDealer, exampleField, exampleMeasures, exampleQuote, exampleSeason } from './example-season.ts'

/** A figure with its numbers in, and the terms whose source is told. */
export interface Worked {
  id: string
  /** Told where one formula has several. */
  label: string
  formula: string
  terms: WorkingTerm[]
  /** Where it is one number. */
  value?: number
}

/** How many rows of the starting book are known in which way. */
export function bookKinds(): { kind: Exclude<Assumption['sourceKind'], 'the farm'>; rows: number }[] {
  return sourceKinds
    .filter((kind) => kind !== 'the farm')
    .map((kind) => ({ kind, rows: starterBook.filter(({ sourceKind }) => sourceKind === kind).length }))
}

/** Every worked figure of the page, by the id that a section calls it by. */
export function workExample(): ReadonlyMap<string, Worked> {
  const context = contextOf(exampleSeason)
  const found = explain(context, {
    field: exampleField.name,
    variety: exampleQuote.variety,
    window: 'Usual',
    programme: exampleMeasures,
  })
  if (!found.ok) throw new Error(`The example does not reckon: ${found.problems[0]?.what}`)
  const { lines } = found.value
  const valueOf = (id: string) => (lines.find((each) => each.id === id) as WorkingLine).value
  const bought = buying(context, valueOf('seed pounds'))
  const all: Worked[] = [
    ...lines,
    ...bought.worked,
    ...cost(bought.dollars, valueOf),
    ...spring(context, valueOf('stand')),
    ...fall(context),
    seedWalk(bought.pounds, valueOf('seed pounds'), bought.dollars),
    lesson(context),
  ]
  return new Map(all.map((each) => [each.id, each]))
}

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)

function worked(id: string, value: number, unit: string, rule: FormulaName, terms: WorkingTerm[]): WorkingLine {
  return line({ id, label: '', value, unit, rule, terms })
}

/** A figure whose working is no plain formula. */
function told(id: string, value: number | undefined, formula: string, terms: WorkingTerm[] = []): Worked {
  return { id, label: '', formula, terms, value }
}

/** An order is of the whole field, no figure of one acre. @param poundsPerAcre [lb/acre] */
function buying({ book, reserve }: Context, poundsPerAcre: number) {
  const [{ acres }, { packPounds }, { breaks, orderFeeCents }] = [exampleField, exampleQuote, exampleDealer]
  const need = poundsPerAcre * acres
  const packs = packsFor(need, reserve, packPounds)
  const exact = worked('packs', (need * (1 + reserve)) / packPounds, 'packs', 'over the last', [
    term('acres', acres, 'acre'),
    term('pounds an acre', poundsPerAcre, 'lb/acre'),
    term('with the reserve', 1 + reserve, '×'),
    term('pack', packPounds, 'lb'),
  ])
  const { packPriceCents, fromPacks } = tierAt(exampleQuote, packs)
  const [price, plain] = [showCents(packPriceCents), showCents(exampleQuote.packPriceCents)]
  const pounds = packs * packPounds
  const order = [
    term('packs at the price of the break', (packs * packPriceCents) / 100, '$'),
    term('off by the dealer’s break', -offCentsAt(breaks, pounds) / 100, '$'),
    term('order fee', orderFeeCents / 100, '$'),
  ]
  const dollars = sum(order.map(({ value }) => value))
  const [variation, chance] = [variationOf(book), houseReserve(book, need)]
  const [short, left] = [
    bookTerm(book, 'reserve/short pound', 'a pound short'),
    bookTerm(book, 'reserve/left pound', 'a pound left'),
  ]
  const ratio = `${numberText(short.value)} / (${numberText(short.value)} + ${numberText(left.value)})`
  return {
    pounds,
    dollars,
    worked: [
      told('packs', packs, `${exact.formula}, so ${showWhole(packs)}`, exact.terms),
      told(
        'pack price',
        packPriceCents,
        `${showWhole(packs)} packs are no fewer than ${showWhole(fromPacks)}: each at ${price} in place of ${plain}`,
      ),
      worked('order', dollars, '$', 'sum', order),
      told(
        'variation',
        needVariation(variation),
        `√(${Object.values(variation)
          .map((share) => `${numberText(share)}²`)
          .join(' + ')}) = ${numberText(needVariation(variation))}`,
        ['seed count', 'emergence', 'planter', 'acreage'].map((of) => bookTerm(book, `reserve/variation/${of}`, of)),
      ),
      told(
        'reserve',
        chance.reserve,
        `enough in ${ratio} = ${showPercent(chance.criticalRatio)} of years: ${showPercent(chance.reserve)} more seed`,
        [short, left],
      ),
    ],
  }
}

/** @param orderDollars [$] of the whole field */
function cost(orderDollars: number, valueOf: (id: string) => number): Worked[] {
  const seed = worked('seed dollars', orderDollars / exampleField.acres, '$/acre', 'over the last', [
    term('order', orderDollars, '$'),
    term('acres', exampleField.acres, 'acre'),
  ])
  const weight = ruleOf(exampleSeason.rules, 'risk-weight')?.amount ?? 1
  const parts = [
    term('seed', seed.value, '$/acre'),
    term('practices and vine work', valueOf('cash'), '$/acre'),
    term('expected loss', weight * valueOf('loss dollars'), '$/acre'),
    term('what the vine costs', valueOf('vine'), '$/acre'),
    term('yield given up', valueOf('give-up'), '$/acre'),
    term('digging off the best day', valueOf('dig dollars'), '$/acre'),
  ]
  return [seed, worked('cost', sum(parts.map(({ value }) => value)), '$/acre', 'sum', parts)]
}

/** A lot that is weaker and of larger seed than was planned. @param stand [plants/ft] planned */
function spring({ book, emergence }: Context, stand: number): Worked[] {
  const lot = { germination: 0.78, seedsPerPound: 640 }
  const { seedsPerFoot } = lotRate(stand, lot, emergence.single, exampleField.rowSpacingIn)
  const costs = placingCosts(book)
  const of = [
    `${showCents(costs.lotAtField)} for each further lot at a field`,
    `${showCents(costs.cleanOut)} for each lot that hoppers are emptied for`,
    `${showCents(costs.weakOnCold)} an acre of weak seed on early ground`,
    `${showCents(costs.carriedLeft)} a pound of carried seed left`,
  ]
  return [
    worked('lot drop', seedsPerFoot, 'seeds/ft', 'drop for a stand', [
      term('planned stand', stand, 'plants/ft'),
      term('germination of the lot', lot.germination, 'share'),
      bookTerm(book, 'emergence/field/single', 'emergence in single rows'),
      bookTerm(book, 'emergence/falls per seed', 'fall for each seed a foot'),
      bookTerm(book, 'drop/seeds per foot/single', 'usual drop in single rows'),
    ]),
    told('lots', undefined, of.join(', '), [
      bookTerm(book, 'lots/another lot at a field', 'another lot'),
      bookTerm(book, 'lots/emptying the hoppers', 'hoppers'),
      bookTerm(book, 'lots/weak seed on cold ground', 'weak seed'),
      bookTerm(book, 'lots/carried seed left', 'seed left'),
    ]),
  ]
}

function fall({ book }: Context): Worked[] {
  const load = { grossPounds: 42_000, tarePounds: 12_000, foreignMaterial: 0.04, looseKernels: 0.03, moisture: 0.08 }
  const grade = { soundMatureKernels: 0.7, soundSplits: 0.04 }
  const dollarsPerPercent = 4.8
  const { onScale, foreignPounds, loosePounds, excessWaterPounds, netPounds } = netWeight(
    load,
    book.number('load/free moisture'),
  )
  const net = worked('net weight', netPounds, 'lb', 'sum', [
    term('gross less tare', onScale, 'lb'),
    term('foreign material', -foreignPounds, 'lb'),
    term('loose kernels', -loosePounds, 'lb'),
    term('water above what is free', -excessWaterPounds, 'lb'),
  ])
  const perTon = loanCentsPerTon(grade, dollarsPerPercent) / 100
  return [
    // What is free is the book's; the pounds above it are not.
    told('net weight', net.value, net.formula, [bookTerm(book, 'load/free moisture', 'free moisture')]),
    worked('loan rate', perTon, '$/ton', 'product', [
      term('sound mature kernels and sound splits', 100 * (grade.soundMatureKernels + grade.soundSplits), '%'),
      term('an invented rate', dollarsPerPercent, '$/ton for each percent'),
    ]),
    worked('load value', (perTon * netPounds) / poundsPerTon, '$', 'over the last', [
      term('dollars a ton', perTon, '$/ton'),
      term('net weight', netPounds, 'lb'),
      term('pounds in a ton', poundsPerTon, 'lb/ton'),
    ]),
  ]
}

/** Two acres fewer were planted, at a heavier rate, and the seed was dearer. */
function seedWalk(boughtPounds: number, poundsPerAcre: number, orderDollars: number): Worked {
  const { acres } = exampleField
  const orderCents = Math.round(100 * orderDollars)
  const plantedPounds = 13_450
  const found = seedVariances([
    {
      variety: exampleQuote.variety,
      planned: {
        acres,
        poundsPerAcre,
        centsPerPound: orderCents / boughtPounds,
        leftPounds: boughtPounds - acres * poundsPerAcre,
      },
      actual: {
        acres: acres - 2,
        plantedPounds,
        leftPounds: boughtPounds - plantedPounds,
        returnedPounds: 0,
        paidCents: orderCents + 20_000,
        creditCents: 0,
      },
    },
  ])
  const [{ plannedCents, actualCents, parts }] = found as [(typeof found)[number]]
  const steps = varianceParts.map((part) => `${stepNames[part]} ${showChange(parts[part]) || 'none'}`)
  const formula = `${showCents(plannedCents)} planned; ${steps.join(', ')}; ${showCents(actualCents)} paid`
  return told('walk', actualCents - plannedCents, formula)
}

function lesson({ book }: Context): Worked {
  const { fields } = lessonWorth(book)
  const [speak, old, seen] = [4, 1, 1.1]
  const weight = weightOf(speak, fields)
  const moved = movedTo(old, seen, weight)
  const formula =
    `${speak} fields saw ${seen} in place of ${old}: weight ${speak} / (${speak} + ${fields}) = ${numberText(weight)}, ` +
    `so ${old} + ${numberText(weight)} × (${seen} − ${old}) = ${numberText(moved)}`
  return told('lesson', moved, formula, [
    bookTerm(book, 'lesson/old value counts as/fields', 'what the old value counts as'),
  ])
}
