/** Places the lots of one variety on its fields: the least trouble, proven to within a share, re-counted without the model. */
import type { LotOnField, LotPlacing, LotProblem, PlacingCosts } from '../../../../src-shared/lot-placing.ts'
import { fail, ok, type Problem, type Result } from '../../../../src-shared/problem.ts'
import type { Solver } from '../solver.ts'
import { firstPlacing } from './first-placing.ts'
import { buildLots, type LotBuild } from './lot-model.ts'
import { whyEach } from './why-lots.ts'

export interface PlacingOptions {
  /** Stop when proven within this share of the least [0–1]. */
  gap: number
  /** [s] */
  seconds: number
  signal?: AbortSignal
}

/** Shares below this are the solver's own roundings. */
const NOTHING = 1e-7

/** @returns the placing, also where seed is short; problems for data that cannot be placed at all, and for faults of ours */
export async function placeLots(
  given: LotProblem,
  options: PlacingOptions,
  solver: Solver,
): Promise<Result<LotPlacing>> {
  const faults = checkData(given)
  if (faults.length > 0) return fail(...faults)
  const problem = sorted(given)
  const build = buildLots(problem)
  const start = firstPlacing(build)
  const answer = await solver.run(build.model.arrays(), { ...options, start, presolve: false })
  const columns = answer.columns ?? start
  const { placed, short } = readPlaced(build, columns)
  const left = leftOf(problem, placed)
  const costs = countCosts(problem, placed, short, left)
  const costCents = sum(Object.values(costs))
  const boundCents = Math.max(0, Math.min(costCents, answer.bound))
  const broken = checkPlacing(problem, placed, short, costCents, answer.bound)
  if (broken.length > 0) return fail(...broken)
  const gap = costCents <= 1e-6 ? 0 : (costCents - boundCents) / costCents
  const endedBy = endings[answer.status] ?? 'time'
  const says = saysOf(problem, gap, short)
  return ok({
    variety: problem.variety,
    placed,
    short,
    left,
    costs,
    costCents,
    boundCents,
    gap,
    endedBy: endedBy === 'gap' && gap <= 1e-9 ? 'proof' : endedBy,
    says,
    why: whyEach(problem, placed, short),
  })
}

const endings: Partial<Record<string, LotPlacing['endedBy']>> = {
  optimal: 'gap',
  time: 'time',
  interrupted: 'you',
}

/** The same data in any order give the same placing. */
function sorted(given: LotProblem): LotProblem {
  // No two have one id: that was refused.
  const inOrder = (a: { id: string }, b: { id: string }) => (a.id < b.id ? -1 : 1)
  const lots = [...given.lots.entries()].sort(([, a], [, b]) => inOrder(a, b))
  return {
    ...given,
    lots: lots.map(([, lot]) => lot),
    fields: given.fields
      .map((field) => ({ ...field, poundsPerAcre: lots.map(([l]) => field.poundsPerAcre[l] ?? null) }))
      .sort(inOrder),
  }
}

function readPlaced({ problem, pairs }: LotBuild, columns: Float64Array) {
  const { fields } = problem
  const placed: LotOnField[] = []
  const acresLeft = fields.map(({ acres }) => acres)
  for (const { field, sown, from, share, need } of pairs) {
    const part = columns[share] as number
    if (part <= NOTHING) continue
    placed.push({ field: sown.id, lot: from.id, acres: part * sown.acres, pounds: part * need })
    acresLeft[field] = (acresLeft[field] as number) - part * sown.acres
  }
  const short = fields.flatMap((field, f) =>
    (acresLeft[f] as number) > 1e-5 * field.acres ? [{ field: field.id, acres: acresLeft[f] as number }] : [],
  )
  return { placed, short }
}

function leftOf(problem: LotProblem, placed: readonly LotOnField[]): LotPlacing['left'] {
  return problem.lots.flatMap((lot) => {
    const own = placed.filter((each) => each.lot === lot.id)
    const pounds = lot.pounds - sum(own.map((each) => each.pounds))
    return pounds > 1e-3 ? [{ lot: lot.id, pounds, isOpened: own.length > 0 }] : []
  })
}

/** [cent] every inconvenience counted again from the placing alone. */
function countCosts(
  { lots, fields, costs }: LotProblem,
  placed: readonly LotOnField[],
  short: LotPlacing['short'],
  left: LotPlacing['left'],
): Record<keyof PlacingCosts, number> {
  const lotOf = new Map(lots.map((lot) => [lot.id, lot]))
  const fieldOf = new Map(fields.map((field) => [field.id, field]))
  const cleaned = new Set(placed.map(({ field, lot }) => JSON.stringify([lot, fieldOf.get(field)?.window])))
  const isMisplaced = ({ field, lot }: LotOnField) => fieldOf.get(field)?.isCold && lotOf.get(lot)?.isWeak
  return {
    lotAtField: placed.length * costs.lotAtField,
    cleanOut: cleaned.size * costs.cleanOut,
    weakOnCold: sum(placed.filter(isMisplaced).map(({ acres }) => acres)) * costs.weakOnCold,
    carriedLeft:
      sum(left.flatMap(({ lot, pounds }) => (lotOf.get(lot)?.isCarried ? [pounds] : []))) * costs.carriedLeft,
    short: sum(short.map(({ acres }) => acres)) * costs.short,
  }
}

/** Every lot's pounds and every field's acres, without the model. */
function checkPlacing(
  { lots, fields, locks }: LotProblem,
  placed: readonly LotOnField[],
  short: LotPlacing['short'],
  costCents: number,
  boundCents: number,
): Problem[] {
  const found: string[] = []
  for (const lot of lots) {
    const pounds = sum(placed.flatMap((each) => (each.lot === lot.id ? [each.pounds] : [])))
    if (pounds > lot.pounds * (1 + 1e-6) + 1e-3) found.push(`${lot.id} has ${lot.pounds} lb; ${pounds} lb are placed.`)
  }
  for (const field of fields) {
    const own = [...placed, ...short].filter((each) => each.field === field.id)
    const acres = sum(own.map((each) => each.acres))
    if (Math.abs(acres - field.acres) > 1e-4 * field.acres)
      found.push(`${field.id} has ${field.acres} acres, not ${acres}.`)
    const locked = locks.filter((lock) => lock.field === field.id).map(({ lot }) => lot)
    const stray = placed.find(({ field: id, lot }) => id === field.id && locked.length > 0 && !locked.includes(lot))
    if (stray !== undefined) found.push(`${field.id} is kept for ${locked.join(', ')} but has ${stray.lot}.`)
  }
  if (costCents < boundCents - 1 - 1e-5 * Math.abs(costCents))
    found.push('it costs less than was proven to be the least.')
  return found.map((what) => ({
    code: 'bug',
    what: `The placing of lots fails a check: ${what}`,
    remedy: 'Please report this with the farm file; do not plant by this placing.',
  }))
}

/** What no placing could be made from. */
function checkData({ lots, fields, locks, costs }: LotProblem): Problem[] {
  const found: Problem[] = []
  const say = (what: string, remedy: string) => found.push({ code: 'bad-value', what, remedy })
  for (const lot of lots)
    if (!Number.isFinite(lot.pounds) || lot.pounds < 0) say(`Lot ${lot.id} has ${lot.pounds} lb.`, 'Enter its pounds.')
  for (const field of fields) {
    if (!Number.isFinite(field.acres) || field.acres <= 0)
      say(`${field.id} has ${field.acres} acres.`, 'Enter the acres to plant.')
    if (field.poundsPerAcre.some((rate) => rate !== null && (!Number.isFinite(rate) || rate <= 0)))
      say(
        `${field.id} has a rate that is no number of pounds an acre.`,
        'Look at the germination and count of its lots.',
      )
  }
  for (const [things, noun] of [
    [lots, 'lot'],
    [fields, 'field'],
  ] as const) {
    const ids = things.map(({ id }) => id)
    const twice = ids.find((id, at) => ids.indexOf(id) !== at)
    if (twice !== undefined) say(`The ${noun} ${twice} is there twice.`, 'Leave one of the two out.')
  }
  for (const lock of locks)
    if (!lots.some(({ id }) => id === lock.lot) || !fields.some(({ id }) => id === lock.field))
      say(`${lock.field} is kept for ${lock.lot}, and one of them is not there.`, 'Release the lock.')
  if (Object.values(costs).some((cents) => !Number.isFinite(cents) || cents < 0))
    say('A cost of placing lots is below 0 or no number.', 'Correct it in the book.')
  return found
}

function saysOf(problem: LotProblem, gap: number, short: LotPlacing['short']): string {
  const lead =
    gap <= 1e-9
      ? `No placing of ${problem.variety} is less trouble.`
      : `This placing of ${problem.variety} is at most ${(Math.ceil(gap * 1000) / 10).toFixed(1)} % more trouble than the least.`
  if (short.length === 0) return lead
  const acres = sum(short.map((each) => each.acres))
  return `${lead} Seed is short for ${acres.toFixed(1)} acres.`
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
