/** Scales of ratings and levels → ours: ratings 1 (resistant) to 9 (susceptible), levels none to severe. The mapping is shown. Pure. */
import { pressureLevels } from '../field.ts'

export interface Scale {
  low: number
  high: number
  /** Whether the high end is the good one: resistant, or no disease. */
  highIsGood: boolean
}

/** One value of a scale as 1–9, 1 the most resistant. */
export function toRating(value: number, { low, high, highIsGood }: Scale): number {
  const share = (value - low) / (high - low)
  return Math.round(1 + 8 * (highIsGood ? 1 - share : share))
}

/** One value of a scale as a level. */
export function toLevel(value: number, { low, high, highIsGood }: Scale): string {
  const share = (value - low) / (high - low)
  const at = Math.round((highIsGood ? 1 - share : share) * (pressureLevels.length - 1))
  return pressureLevels[at] as string
}

export const isOurs = ({ low, high, highIsGood }: Scale) => low === 1 && high === 9 && !highIsGood

export function scaleText({ low, high, highIsGood }: Scale, good: string, bad: string): string {
  return `${low}–${high}, ${low} ${highIsGood ? bad : good}, ${high} ${highIsGood ? good : bad}`
}

/** “1→9 2→8 …”: what each step becomes. */
export function mappingText(scale: Scale, to: (value: number, scale: Scale) => number | string): string {
  const steps: string[] = []
  for (let value = scale.low; value <= scale.high; value += 1) steps.push(`${value} → ${to(value, scale)}`)
  return steps.join(', ')
}

const good = String.raw`(?:best|good|excellent|resistant|most resistant|highly resistant|no disease|immune|tolerant|strong|high resistance|very resistant|great|none|healthy|superior)`
const bad = String.raw`(?:worst|bad|poor|susceptible|most susceptible|highly susceptible|severe|dead|weak|very susceptible|low resistance|high susceptibility|very poor|heavy)`

/** What words beside the table say of a scale: “(1=best)”, “Ratings 1-10, 10 = most resistant”, “0–4, higher is worse”. */
export function scaleIn(text: string): { low?: number; high?: number; highIsGood?: boolean } {
  const plain = text.toLowerCase().replace(/\s+/g, ' ')
  const out: { low?: number; high?: number; highIsGood?: boolean } = {}
  const ends = [
    ...plain.matchAll(
      new RegExp(String.raw`(\d{1,2})\s*(?:=|is|are|being|:|-|–|\(|means)?\s*\(?(${good}|${bad})\b`, 'g'),
    ),
    ...[...plain.matchAll(new RegExp(String.raw`\b(${good}|${bad})\s*(?:=|is|at|:)?\s*\(?(\d{1,2})`, 'g'))].map(
      (match) => [match[0], match[2] ?? '', match[1] ?? ''],
    ),
  ]
  const range = /(?:^|[^\d.])([01])\s*(?:-|–|to|thru|through)\s*(\d{1,2})(?![\d.]|\s*%)/.exec(plain)
  if (range && [3, 4, 5, 6, 9, 10].includes(Number(range[2])))
    [out.low, out.high] = [Number(range[1]), Number(range[2])]
  const values = ends.map(([, value = '0', word = '']) => ({
    value: Number(value),
    isGood: new RegExp(`^${good}$`).test(word),
  }))
  const goods = values.filter(({ isGood }) => isGood).map(({ value }) => value)
  const bads = values.filter(({ isGood }) => !isGood).map(({ value }) => value)
  if (goods.length > 0 || bads.length > 0) {
    const [goodEnd, badEnd] = [goods[0], bads[0]]
    if (goodEnd !== undefined && badEnd !== undefined) {
      out.highIsGood = goodEnd > badEnd
      out.low = Math.min(goodEnd, badEnd)
      out.high = Math.max(goodEnd, badEnd)
    } else if (goodEnd !== undefined) out.highIsGood = goodEnd > 1
    else if (badEnd !== undefined) out.highIsGood = badEnd <= 1
    const most = Math.max(...values.map(({ value }) => value))
    if (out.high === undefined && most > 1) [out.low, out.high] = [out.low ?? 1, most]
  }
  if (
    /(?:higher|high|larger|bigger)(?: number| rating| score)?s?\s*(?:=|is|are|means?)\s*(?:more )?(?:better|best|resistan)/.test(
      plain,
    )
  )
    out.highIsGood = true
  if (
    /(?:lower|low|smaller)(?: number| rating| score)?s?\s*(?:=|is|are|means?)\s*(?:more )?(?:better|best|resistan)/.test(
      plain,
    )
  )
    out.highIsGood = false
  if (
    /(?:higher|high)(?: number| rating| score)?s?\s*(?:=|is|are|means?)\s*(?:more )?(?:worse|worst|suscept|disease)/.test(
      plain,
    )
  )
    out.highIsGood = false
  return out
}
