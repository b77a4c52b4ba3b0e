/** The working behind any figure of a review, as lines that can be followed by hand. */
import type { Result } from '../problem.ts'
import type { Figure, FigureWorking } from './figure.ts'
import { marginWorking, standWorking, troubleWorking } from './ground-working.ts'
import { moneyWorking } from './money-working.ts'
import { reviewOf, type Reckoning } from './review.ts'
import { seedWorking } from './seed-working.ts'
import { sideWorking } from './side-working.ts'

export function figureWorking(reckoning: Reckoning, figure: Figure): Result<FigureWorking> {
  const review = reviewOf(reckoning)
  switch (figure.of) {
    case 'money':
      return moneyWorking(reckoning, review, figure)
    case 'seed':
      return seedWorking(reckoning, review.seed, figure)
    case 'side':
      return sideWorking(reckoning, review, figure)
    case 'stand':
      return standWorking(reckoning, figure)
    case 'trouble':
      return troubleWorking(reckoning, review, figure.threat)
    case 'margin':
      return marginWorking(review, figure.variety)
  }
}
