/** What is said of an order line: to the engine as a mark, to the manager in words. Pure. */
import { isFixed, nextTier, otherPacksOf, standing, type Mark, type OrderLine } from '../../../src-shared/order.ts'
import { tierAt } from '../../../src-shared/price-break.ts'
import { showCents, showCount, showDay, showWhole } from '../../../src-shared/show.ts'

/** [day] from which on a last day is worth attention. */
const soon = 14
const day = 86_400_000

/** How the line is marked now, so that one thing of it can be changed; null where nothing was said of it yet. */
export function markOf(line: OrderLine): Exclude<Mark, { state: 'to order' }> | null {
  const { state } = line
  const note = line.note === null ? {} : { note: line.note }
  if (state === 'to order') return null
  if (state === 'ordered') return { state, on: line.sentOn as string }
  const on = line.answeredOn as string
  if (state === 'confirmed') return { state, on }
  if (state === 'refused') return { state, on, ...note }
  const { packs, packPriceCents } = standing(line)
  return { state, on, packs, packPriceCents, ...note }
}

/** The dealer agreed to so many packs: at the price they reach, unless another was agreed on before. */
export function packsMark(line: OrderLine, packs: number, today: string): Mark {
  const { packs: before, packPriceCents } = standing(line)
  const isOwnPrice = line.confirmedPriceCents !== null && packPriceCents !== tierAt(line.terms, before).packPriceCents
  return {
    state: 'changed',
    on: line.answeredOn ?? today,
    packs,
    ...(isOwnPrice && before > 0 ? { packPriceCents } : {}),
    ...(line.note === null ? {} : { note: line.note }),
  }
}

export function priceMark(line: OrderLine, packPriceCents: number, today: string): Mark {
  const packs = standing(line).packs
  const note = line.note === null ? {} : { note: line.note }
  return { state: 'changed', on: line.answeredOn ?? today, packs: packs || line.packs, packPriceCents, ...note }
}

/** The words of the undo step. */
export function sayMark(mark: Mark, { packs, variety }: OrderLine): string {
  switch (mark.state) {
    case 'to order':
      return `Take ${variety} back to be ordered`
    case 'ordered':
      return `Send ${showCount(packs, 'pack')} of ${variety}`
    case 'confirmed':
      return `Confirm ${showCount(packs, 'pack')} of ${variety}`
    case 'changed':
      return `Change ${variety} to ${showCount(mark.packs, 'pack')}`
    case 'refused':
      return `Mark ${variety} refused`
  }
}

/**
 * The break reached, and what the next would take: of packs that can still be changed.
 * @param lines of the same order: what others have of the quote counts towards its breaks
 */
export function breakWords(line: OrderLine, lines: readonly OrderLine[] = []): string {
  const { packs, packPriceCents } = standing(line)
  if (packs === 0) return ''
  const other = otherPacksOf(line, lines)
  const { fromPacks } = tierAt(line.terms, packs + other)
  const reached = fromPacks > 0 ? `break from ${showWhole(fromPacks)} packs reached` : ''
  const next = nextTier(line.terms, packs, other)
  if (next === null || line.state === 'confirmed') return reached
  const saved = packs * packPriceCents - (packs + next.morePacks) * next.packPriceCents
  const price = `${showWhole(next.morePacks)} packs more to the break at ${showCents(next.packPriceCents)}`
  const cost = saved > 0 ? `, and the line costs ${showCents(saved)} less` : ''
  return [reached, `${price}${cost}`].filter((words) => words !== '').join('; ')
}

/** The last day to order, while it is not sent; with what is lost after it. */
export function lastDayWords(line: OrderLine, today: string): { words: string; heed: boolean } | null {
  const { orderBy, after } = line.terms
  if (orderBy === undefined || isFixed(line)) return null
  const left = Math.round((Date.parse(orderBy) - Date.parse(today)) / day)
  const when =
    left < 0
      ? `last day to order was ${showDay(orderBy)}`
      : left === 0
        ? 'last day to order is today'
        : `order by ${showDay(orderBy)}, in ${showCount(left, 'day')}`
  const lost =
    after === null
      ? 'none of it here after that'
      : after.cents > 0
        ? `after that ${offerOf(after.quote) || 'the plain offer'}, ${showCents(after.cents)} more`
        : `after that ${offerOf(after.quote) || 'the plain offer'}, for no more`
  return { words: `${when}; ${lost}`, heed: left <= soon }
}

/** The quote's own name, after dealer and variety. */
export function offerOf(quote: string): string {
  return quote.split(' · ').slice(2).join(' · ')
}

/** How many of the lines wait for what, most urgent first. */
export function waitingWords(lines: readonly OrderLine[]): string {
  const count = (state: OrderLine['state']) => lines.filter((line) => line.state === state).length
  const [open, sent, refused, changed] = [count('to order'), count('ordered'), count('refused'), count('changed')]
  const words = [
    open > 0 ? `${showCount(open, 'line')} to order` : '',
    sent > 0 ? `${showCount(sent, 'line')} sent and not confirmed` : '',
    refused > 0 ? `${showWhole(refused)} refused` : '',
    changed > 0 ? `${showWhole(changed)} changed by the dealer` : '',
  ].filter((part) => part !== '')
  return words.length === 0 ? 'every line is confirmed' : words.join(', ')
}
