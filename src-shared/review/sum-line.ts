/** What every working of the review is told with: a sum whose terms are named while there are few, and a name that is gone. */
import { line, term, type WorkingLine, type WorkingTerm } from '../agronomy/working.ts'
import { fail, type Problem } from '../problem.ts'
import { showCount } from '../show.ts'

/** Terms named one by one; what is beyond stands together, so that a sum stays a sum. */
export const named = 30

export function noSuch(what: string, name: string): { ok: false; problems: Problem[] } {
  return fail({
    code: 'unknown-name',
    what: `The review has no ${what} ${name}.`,
    where: { name },
    remedy: 'Look at the page again; it may have been renamed or taken away.',
  })
}

/** A sum whose terms are told one by one while there are few. */
export function sumLine(
  id: string,
  label: string,
  unit: string,
  all: readonly WorkingTerm[],
  note?: string,
): WorkingLine {
  const rest = all.slice(named)
  const terms = [
    ...all.slice(0, named),
    ...(rest.length > 0
      ? [
          term(
            `${showCount(rest.length, 'more', 'more')}`,
            rest.reduce((sum, { value }) => sum + value, 0),
            unit,
          ),
        ]
      : []),
  ]
  const value = all.reduce((sum, each) => sum + each.value, 0)
  return line({
    id,
    label,
    value,
    unit,
    rule: 'sum',
    terms: terms.length > 0 ? terms : [term('nothing', 0, unit)],
    note,
  })
}
