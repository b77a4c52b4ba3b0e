/** Cells that hold more than one value: crop history, a field's own drop, price breaks. Each in words that read back. */
import type { Drop } from '../field.ts'
import type { Reading } from '../read-text.ts'
import { readDollars, readNumber } from '../read-text.ts'
import { showCents, showWhole } from '../show.ts'
import { list, words, type Kind } from './kind.ts'

type Crop = { season: number; crop: string }
type QuoteBreak = { fromPacks: number; packPriceCents: number }
type DealerBreak = { fromPounds: number; offCentsPerPound: number }

/** "2026 cotton" */
export function readCrop(text: string): Reading<Crop> {
  const match = /^(\d{4}):?\s+(.+)$/.exec(text)
  if (!match) return { ok: false, what: `"${text}" is not a year and a crop, as 2026 cotton` }
  const crop = (match[2] as string).trim()
  if (/(^|\s)\d{4}(\s|$)/.test(crop))
    return { ok: false, what: `"${text}" holds two years: put a semicolon between them` }
  return { ok: true, value: { season: Number(match[1]), crop } }
}

/** "from 400 packs $47.25": every pack costs this from so many on. */
export function readQuoteBreak(text: string): Reading<QuoteBreak> {
  const match = /^from ([\d,]+)(?: packs?| bags?)?:? \$?([\d.,]+)$/i.exec(text)
  const from = match && readNumber(match[1] as string)
  const price = match && readDollars(match[2] as string)
  if (!from?.ok || !price?.ok) return { ok: false, what: `"${text}" is no price break, as "from 400 packs $47.25"` }
  return { ok: true, value: { fromPacks: from.value, packPriceCents: price.value } }
}

/** "from 60000 lb 1.5 c/lb off": every pound costs so much less. */
export function readDealerBreak(text: string): Reading<DealerBreak> {
  const own = /^from ([\d,]+) lb:? ([\d.]+) ?(?:c|ct|cents?)(?:\/lb| a pound)? off$/i.exec(text)
  // As dealers write it: “2¢/lb over 40000#”, “1.5 c/lb off from 60,000 lb”.
  const other =
    /^([\d.]+) ?(?:c|ct|cts|cents?|¢) ?(?:\/ ?|a |per )(?:lb|#|pound)\.?(?: off)?,? (?:over|from|above|at|on) ([\d,]+) ?(?:lbs?|#|pounds?)\.?(?: ?\+| and up| or more)?$/i.exec(
      text,
    )
  const match = own ?? (other && [text, other[2], other[1]])
  const from = match && readNumber(match[1] as string)
  const off = match && readNumber(match[2] as string)
  if (!from?.ok || !off?.ok) return { ok: false, what: `"${text}" is no price break, as "from 60000 lb 1.5 c/lb off"` }
  return { ok: true, value: { fromPounds: from.value, offCentsPerPound: off.value } }
}

export const history: Kind = list<Crop>(
  readCrop,
  ({ season, crop }) => `${season} ${crop}`,
  ({ season, crop }) => `’${String(season).slice(2)} ${crop}`,
  ({ crop }) => crop.toLowerCase(),
)

export const quoteBreaks: Kind = list<QuoteBreak>(
  readQuoteBreak,
  ({ fromPacks, packPriceCents }) => `from ${fromPacks} packs $${(packPriceCents / 100).toFixed(2)}`,
  ({ fromPacks, packPriceCents }) => `from ${showWhole(fromPacks)} packs ${showCents(packPriceCents)}`,
  ({ fromPacks }) => fromPacks,
)

export const dealerBreaks: Kind = list<DealerBreak>(
  readDealerBreak,
  ({ fromPounds, offCentsPerPound }) => `from ${fromPounds} lb ${offCentsPerPound} c/lb off`,
  ({ fromPounds, offCentsPerPound }) => `from ${showWhole(fromPounds)} lb ${offCentsPerPound} c/lb off`,
  ({ fromPounds }) => fromPounds,
)

function dropText(value: unknown): string {
  const drop = value as Drop | null
  if (drop === null) return ''
  return drop.kind === 'fixed' ? `${drop.seedsPerFoot} seeds/ft` : `${drop.plantsPerFoot} plants/ft`
}

/** A field's own drop: seeds a foot, or the stand that is wanted. Empty: the house's. */
export const drop: Kind = {
  ...words,
  isFigure: true,
  read(text) {
    const match = /^([\d.]+)\s*(seeds?|plants?)?(?:\s*(?:\/|a|per)\s*(?:ft|foot))?$/i.exec(text.trim())
    const amount = match && readNumber(match[1] as string)
    if (!amount?.ok) return { ok: false, what: `"${text}" is no drop, as "6 seeds/ft" or "4 plants/ft"` }
    const isStand = /^plant/i.test(match?.[2] ?? '')
    const value: Drop = isStand
      ? { kind: 'stand', plantsPerFoot: amount.value }
      : { kind: 'fixed', seedsPerFoot: amount.value }
    return { ok: true, value }
  },
  type: dropText,
  show: dropText,
  sort(value) {
    const own = value as Drop | null
    if (own === null) return null
    return own.kind === 'fixed' ? own.seedsPerFoot : own.plantsPerFoot
  },
}
