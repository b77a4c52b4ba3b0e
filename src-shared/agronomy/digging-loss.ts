/**
 * What digging off the best day costs, as a range. Two published views disagree: a share a day, and pounds for a
 * delay of one to two weeks. Both are returned; no plan counts either.
 */
import { rangeOf, type Book, type Range } from '../assumption.ts'

export interface DiggingLoss {
  /** [share of yield] by the loss a day, 0–1. */
  share: Range
  /** [lb/acre] the same on this yield. */
  pounds: Range
  /** [lb/acre] the second view; null unless it is a delay of one to two weeks. */
  otherView: Range | null
  /** True where more days than were studied lie between: the line is carried on, nothing more. */
  isBeyondStudy: boolean
}

/** [share of yield] lost by digging so many days off the best day; linear, both sides alike. 10 days at 1 % → 0.1. */
export function diggingDelayLoss(daysOff: number, sharePerDay: number): number {
  return Math.min(1, Math.abs(daysOff) * sharePerDay)
}

/**
 * Loss by digging too early (days below 0) or too late.
 * @param daysOff [day] from the best day
 * @param yieldLb [lb/acre] ≥ 0 on the best day
 */
export function diggingLossRange(book: Book, daysOff: number, yieldLb: number): DiggingLoss {
  const perDay = rangeOf(book.row('harvest/loss per day off'))
  const share = mapRange(perDay, (each) => diggingDelayLoss(daysOff, each))
  return {
    share,
    pounds: mapRange(share, (each) => each * yieldLb),
    otherView: daysOff >= 7 && daysOff <= 14 ? rangeOf(book.row('harvest/loss over two weeks')) : null,
    isBeyondStudy: Math.abs(daysOff) > book.number('harvest/days studied'),
  }
}

function mapRange(range: Range, change: (each: number) => number): Range {
  return { low: change(range.low), usual: change(range.usual), high: change(range.high) }
}
