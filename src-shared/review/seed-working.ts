/** The working behind a step from the seed cost that was planned to the one that was paid. */
import { line, term, type WorkingLine, type WorkingTerm } from '../agronomy/working.ts'
import { ok, type Result } from '../problem.ts'
import type { Figure, FigureWorking } from './figure.ts'
import type { Reckoning } from './review.ts'
import type { SeedWalk } from './seed-walk.ts'
import { noSuch, sumLine } from './sum-line.ts'

const stepTitles: Record<Extract<Figure, { of: 'seed' }>['step'], string> = {
  planned: 'Seed cost as planned',
  price: 'Because of the price',
  rate: 'Because of the rate planted',
  acreage: 'Because of the acres in all',
  mix: 'Because of the mix of varieties',
  left: 'Because of seed left over',
  returned: 'Because of returns',
  fees: 'Because of order fees',
  'other bills': 'Bills that belong to no lot',
  paid: 'Seed cost as paid, credits taken off',
}

export function seedWorking(
  { seed: own }: Reckoning,
  walk: SeedWalk | null,
  { variety, step }: Extract<Figure, { of: 'seed' }>,
): Result<FigureWorking> {
  if (walk === null) return noSuch('seed cost', 'yet')
  const title = `${stepTitles[step]}${variety === null ? '' : `, ${variety}`}`
  const cents = (each: SeedWalk['varieties'][number]) =>
    step === 'planned'
      ? each.plannedCents
      : step === 'paid'
        ? each.actualCents
        : step === 'fees' || step === 'other bills'
          ? 0
          : each.parts[step]
  if (variety === null) {
    const terms = walk.varieties
      .filter((each) => cents(each) !== 0)
      .map((each) => term(each.variety, cents(each) / 100, '$'))
    const fees = own.feeCents
    if (step === 'planned') terms.push(term('order fees', (fees - walk.steps.fees) / 100, '$'))
    if (step === 'paid') terms.push(term('order fees', fees / 100, '$'))
    if (step === 'paid' && own.unplacedCents !== 0) terms.push(term('bills of no lot', own.unplacedCents / 100, '$'))
    if (step === 'fees') {
      terms.push(term('fees paid', fees / 100, '$'), term('fees planned', -(fees - walk.steps.fees) / 100, '$'))
    }
    if (step === 'other bills') terms.push(term('bills and credits of no lot', own.unplacedCents / 100, '$'))
    return ok({ title, lines: [sumLine(step, title, '$', terms)] })
  }
  const found = walk.varieties.find((each) => each.variety === variety)
  if (found === undefined) return noSuch('variety', variety)
  return ok({ title, lines: varianceLines(walk, found, step, title) })
}

function varianceLines(
  walk: SeedWalk,
  { of: { planned, actual }, plannedCents, actualCents, parts }: SeedWalk['varieties'][number],
  step: Extract<Figure, { of: 'seed' }>['step'],
  title: string,
): WorkingLine[] {
  const bought = actual.plantedPounds + actual.leftPounds + actual.returnedPounds
  const rate = planned?.poundsPerAcre ?? (actual.acres > 0 ? actual.plantedPounds / actual.acres : 0)
  const price = (planned?.centsPerPound ?? (bought > 0 ? actual.paidCents / bought : 0)) / 100
  const sum = (of: (each: SeedWalk['varieties'][number]['of']) => number) =>
    walk.varieties.reduce((total, each) => total + of(each.of), 0)
  const plannedAcres = planned?.acres ?? 0
  const allPlanned = sum((each) => each.planned?.acres ?? 0)
  const inMix = allPlanned > 0 ? (sum((each) => each.actual.acres) * plannedAcres) / allPlanned : 0
  const mixLine = line({
    id: 'in mix',
    label: 'Acres of it at the plan’s shares of what was planted',
    value: inMix,
    unit: 'acre',
    rule: allPlanned > 0 ? 'over the last' : 'sum',
    terms:
      allPlanned > 0
        ? [
            term(
              'planted in all',
              sum((each) => each.actual.acres),
              'acre',
            ),
            term('planned of it', plannedAcres, 'acre'),
            term('planned in all', allPlanned, 'acre'),
          ]
        : [term('none was planned', 0, 'acre')],
  })
  const minus = (cents: number, a: WorkingTerm, b: WorkingTerm, of: WorkingTerm) =>
    line({ id: step, label: title, value: cents / 100, unit: '$', rule: 'extra hours', terms: [a, b, of] })
  const priceTerm = term('planned price', price, '$/lb')
  const acreTerm = term('planned seed of an acre', rate * price, '$/acre')
  switch (step) {
    case 'planned':
      return [
        sumLine(step, title, '$', [
          term(
            'for the acres planned',
            (plannedCents - Math.round((planned?.leftPounds ?? 0) * price * 100)) / 100,
            '$',
          ),
          term(
            'planned to be left: reserve and whole packs',
            Math.round((planned?.leftPounds ?? 0) * price * 100) / 100,
            '$',
          ),
        ]),
      ]
    case 'paid':
      return [
        sumLine(step, title, '$', [
          term('paid', (actualCents + actual.creditCents) / 100, '$'),
          term('credit for returns', -actual.creditCents / 100, '$'),
        ]),
      ]
    case 'price': {
      const atPlan = bought * price
      return [
        sumLine(step, title, '$', [
          term('paid', actual.paidCents / 100, '$'),
          term('at the planned price', -atPlan, '$'),
        ]),
        line({
          id: 'at plan',
          label: 'What came, at the planned price',
          value: atPlan,
          unit: '$',
          rule: 'product',
          terms: [term('planted, left and returned', bought, 'lb'), priceTerm],
        }),
      ]
    }
    case 'rate':
      return [
        minus(
          parts.rate,
          term('planted', actual.plantedPounds, 'lb'),
          term('at the planned rate', actual.acres * rate, 'lb'),
          priceTerm,
        ),
      ]
    case 'acreage':
      return [
        minus(
          parts.acreage,
          term('acres at the plan’s shares', inMix, 'acre'),
          term('planned', plannedAcres, 'acre'),
          acreTerm,
        ),
        mixLine,
      ]
    case 'mix':
      return [
        minus(parts.mix, term('planted', actual.acres, 'acre'), term('at the plan’s shares', inMix, 'acre'), acreTerm),
        mixLine,
      ]
    case 'left':
      return [
        minus(
          parts.left,
          term('left', actual.leftPounds, 'lb'),
          term('planned to be left', planned?.leftPounds ?? 0, 'lb'),
          priceTerm,
        ),
      ]
    case 'returned':
      return [
        sumLine(step, title, '$', [
          term('returned, at the planned price', (parts.returned + actual.creditCents) / 100, '$'),
          term('credit', -actual.creditCents / 100, '$'),
        ]),
      ]
    default:
      return [sumLine(step, title, '$', [term('belongs to no variety', 0, '$')])]
  }
}
