/** A plan written out with `--out`, read again as far as orders need it, against the season it was made from. */
import * as v from 'valibot'
import type { Plan } from './plan.ts'
import { between, cents, nameText, wholeBetween } from './primitive.ts'
import { fail, ok, type Result } from './problem.ts'
import { quoteTitle } from './quote.ts'
import { problemsFrom } from './read-file.ts'
import type { Season } from './season.ts'

const purchase = v.object({
  quote: v.pipe(v.string('must be text'), v.minLength(1), v.maxLength(250)),
  dealer: nameText,
  variety: nameText,
  packs: wholeBetween(1, 1_000_000),
  packPounds: between(1, 10_000),
  packPriceCents: cents,
  fromPacks: wholeBetween(0, 1_000_000),
  pounds: between(0, 1e10),
  cents: wholeBetween(0, 1e13),
})

const planFile = v.object({ plan: v.object({ purchases: v.array(purchase) }, 'must be a plan') }, 'must be a plan')

/** @param file name shown in the problems */
export function readPlanFile(raw: unknown, file: string, season: Season): Result<Pick<Plan, 'purchases'>> {
  const parsed = v.safeParse(planFile, raw)
  if (!parsed.success) return fail(...problemsFrom(parsed.issues, raw, file))
  const titles = new Set(season.quotes.map(quoteTitle))
  const { purchases } = parsed.output.plan
  const unknown = purchases.flatMap(({ quote, dealer }, at) =>
    titles.has(quote) && quote.startsWith(dealer) ? [] : [{ quote, path: `plan.purchases[${at}].quote` }],
  )
  if (unknown.length === 0) return ok({ purchases })
  return fail(
    ...unknown.map(({ quote, path }) => ({
      code: 'unknown-name' as const,
      what: `The plan buys by the quote ${quote}, which the season does not have.`,
      where: { file, path, name: quote },
      remedy: 'Give the season that the plan was made from.',
    })),
  )
}
