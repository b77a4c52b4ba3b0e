/** Hard rules of the house on one option: every reason why it may not be, in words, not only the first. */
import type { Book } from '../assumption.ts'
import { peanutNematodes, type Field } from '../field.ts'
import { ruleOf, rulesOn, type Rule } from '../rule.ts'
import { showMonthDay } from '../sheet/day-text.ts'
import type { Measure } from '../threat.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import type { Context } from './context.ts'
import type { ThreatTable } from './threat-table.ts'
import type { VineEntry } from './vine.ts'

/** The rules that are on, sorted out once for all options. */
export interface HardRules {
  earlyRatings: Rule[]
  earlyTwinRows: boolean
  earlyMeasures: Rule[]
  alwaysMeasures: Rule[]
  largestLosses: { rule: Rule; threat: number; most: number }[]
  /** [per 100 cc] Infinity where the rule is off. */
  nematodeThreshold: number
  /** Ratings up to this one count as resistant. */
  resistantRating: number
  /** What a variety counts as that has no rating for a threat. */
  unrated: number
  /** Names of the threats that a soil count speaks of. */
  nematodes: string[]
  /** [plants/ft] that an early window asks for; 0 for none. */
  earlyStand: number
}

/** Sorts the rules that are on. One whose amount is missing forbids nothing. */
export function hardRulesOf(rules: readonly Rule[], threats: readonly ThreatTable[], book: Book): HardRules {
  return {
    earlyRatings: rulesOn(rules, 'early-rating'),
    earlyTwinRows: ruleOf(rules, 'early-twin-rows') !== undefined,
    earlyMeasures: rulesOn(rules, 'early-measure'),
    alwaysMeasures: rulesOn(rules, 'always-measure'),
    largestLosses: rulesOn(rules, 'largest-loss').map((rule) => ({
      rule,
      threat: threats.findIndex((threat) => threat.name === rule.subject),
      most: rule.amount ?? 1,
    })),
    nematodeThreshold: ruleOf(rules, 'nematode-threshold')?.amount ?? Infinity,
    resistantRating: book.number('rating/resistant'),
    unrated: book.number('rating/unrated'),
    nematodes: countedNematodes(threats),
    earlyStand: ruleOf(rules, 'early-stand')?.amount ?? 0,
  }
}

/** The threats with thresholds in the book; where none has, as on a farm with names of its own, every nematode. */
function countedNematodes(threats: readonly ThreatTable[]): string[] {
  const counted = threats.filter((threat) => threat.countFrom !== null)
  return (counted.length > 0 ? counted : threats.filter((threat) => threat.isNematode)).map((threat) => threat.name)
}

/** Groups of measures that a rule may ask for even where they bear on nothing. */
export function groupsAskedFor(hard: HardRules): Set<string> {
  return new Set([...hard.earlyMeasures, ...hard.alwaysMeasures].map((rule) => rule.subject ?? ''))
}

/** True where the house plants only what is insured in full and this day is later. @param planted ISO date */
export function isUninsured({ season, calendar }: Context, planted: string): boolean {
  return ruleOf(season.rules, 'insured-planting') !== undefined && planted > calendar.lastInsured
}

/** Why a window has no week left to plant in. */
export function uninsuredReason({ calendar }: Context): string {
  return `Planted after ${showMonthDay(calendar.lastInsured.slice(5))}, the last insurable planting day.`
}

/** Reasons that no programme can mend. @param stand [plants/ft] that the drop leaves */
export function reasonsAlways(
  hard: HardRules,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
  vine: VineEntry,
  stand: number,
): string[] {
  const reasons: string[] = []
  if (vine.action === 'do not plant') {
    reasons.push(`The vine table says not to plant a ${variety.vine} vine on ${field.growth} ground.`)
  }
  if (window.kind !== 'early') return reasons
  for (const { subject = '', amount = 9 } of hard.earlyRatings) {
    const rating = variety.ratings[subject] ?? hard.unrated
    if (rating > amount) reasons.push(`Rated ${rating} for ${subject}; an early window asks for ${amount} or better.`)
  }
  if (hard.earlyTwinRows && field.rowPattern !== 'twin') {
    reasons.push('An early window asks for twin rows; this field is planted in single rows.')
  }
  if (stand < hard.earlyStand - 1e-9) {
    reasons.push(
      `An early window asks for ${hard.earlyStand} plants a foot; no drop leaves more than ${stand.toFixed(2)}.`,
    )
  }
  return reasons
}

/** Reasons that depend on the programme, without what it costs or saves. */
export function reasonsOfProgramme(
  hard: HardRules,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
  programme: readonly Measure[],
): string[] {
  return [...reasonsOfGroups(hard, window, programme), ...reasonsOfCount(hard, field, variety, programme)]
}

/** What the house or a window asks for: the same for every variety and field. */
export function reasonsOfGroups(hard: HardRules, window: PlantingWindow, programme: readonly Measure[]): string[] {
  const reasons: string[] = []
  const has = (group: string | undefined) => programme.some((measure) => measure.group === group)
  for (const { subject } of hard.alwaysMeasures) {
    if (!has(subject)) reasons.push(`The house uses ${subject} on every field.`)
  }
  if (window.kind === 'early') {
    for (const { subject } of hard.earlyMeasures) {
      if (!has(subject)) reasons.push(`An early window asks for ${subject}.`)
    }
  }
  return reasons
}

/** What a count of nematodes asks for: the same in every window. */
export function reasonsOfCount(
  hard: HardRules,
  field: Field,
  variety: Variety,
  programme: readonly Measure[],
): string[] {
  const reasons: string[] = []
  const count = peanutNematodes(field)
  if (count !== undefined && count >= hard.nematodeThreshold) {
    for (const name of hard.nematodes) {
      const isTreated = programme.some((measure) => (measure.efficacy[name] ?? 0) > 0)
      if (isTreated || (variety.ratings[name] ?? hard.unrated) <= hard.resistantRating) continue
      reasons.push(
        `${count} nematodes per 100 cc ask for a variety rated ${hard.resistantRating} or better, or a nematicide.`,
      )
    }
  }
  return reasons
}

/** How many reasons the expected losses give. @param losses [share of yield] by threat */
export function overLimits(hard: HardRules, losses: readonly number[]): number {
  let over = 0
  for (const limit of hard.largestLosses) if (isOver(limit, losses)) over += 1
  return over
}

/** Reasons that the expected losses give. @param losses [share of yield] by threat */
export function reasonsOfLoss(hard: HardRules, losses: readonly number[]): string[] {
  return hard.largestLosses
    .filter((limit) => isOver(limit, losses))
    .map(
      ({ rule, threat, most }) =>
        `Would lose ${percent(losses[threat] ?? 0)} to ${rule.subject}; the rule allows ${percent(most)}.`,
    )
}

function isOver({ threat, most }: HardRules['largestLosses'][number], losses: readonly number[]): boolean {
  return (losses[threat] ?? 0) > most + 1e-12
}

function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`
}
