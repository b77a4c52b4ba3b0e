/**
 * What to ask of a season so that one named rule of its plan gives way: by an amount, or altogether. Rules are named
 * as in `plan/rules/` (`lock/Creek/Amber`); names may hold strokes themselves, so ids are made and compared, not cut.
 */
import { Book } from './assumption.ts'
import { fitDaysIn, plantingWeeks, readCalendar, type Calendar } from './agronomy/calendar.ts'
import { addDays, weekOf } from './agronomy/harvest.ts'
import { starterBook } from './book/starter.ts'
import { lockId } from './lock.ts'
import type { ClashingRule, Conflict, Settling } from './plan.ts'
import { quoteTitle } from './quote.ts'
import { ruleKinds, type RuleKind } from './rule.ts'
import type { Season } from './season.ts'
import { sayWhatIf, type WhatIf } from './what-if.ts'
import { machineKinds, type MachineKind } from './window.ts'

/** Rules of one amount that are loosened by more of it, and by less of it. */
const byMore: readonly RuleKind[] = ['most-varieties', 'most-dealers', 'budget']
const byLess: readonly RuleKind[] = ['fewest-varieties']

/**
 * @param amount [unit of the rule] by how much it gives way; null: altogether
 * @returns null where nothing that a season holds would do it
 */
export function giveWay(season: Season, ruleId: string, amount: number | null): WhatIf | null {
  return (
    heldFixed(season, ruleId) ??
    seedToBeHad(season, ruleId, amount) ??
    acres(season, ruleId, amount) ??
    counted(season, ruleId, amount) ??
    hours(season, ruleId, amount)
  )
}

/** What settles a clash by this rule alone; null where it does not, or where it is not known to. */
export function settles(season: Season, { id, settles, amount }: ClashingRule): WhatIf | null {
  return settles === true ? giveWay(season, id, amount) : null
}

/** For each clashing rule that can settle it alone, the change that does. */
export function waysToSettle(season: Season, conflict: Conflict | undefined): Settling[] {
  return (conflict?.rules ?? []).flatMap((rule) => {
    const whatIf = settles(season, rule)
    return whatIf === null ? [] : [{ rule: rule.id, whatIf, says: sayWhatIf(whatIf, season.rules) }]
  })
}

function heldFixed(season: Season, ruleId: string): WhatIf | null {
  const lock = season.locks.find((each) => lockId(each) === ruleId)
  if (lock !== undefined) return { kind: 'unlock', field: lock.field }
  const never = season.exclusions.find(
    ({ field = '', variety = '', window = '' }) => ruleId === `exclusion/${field}/${variety}/${window}`,
  )
  return never === undefined ? null : { kind: 'allow', ...never }
}

function seedToBeHad(season: Season, ruleId: string, amount: number | null): WhatIf | null {
  const quote = season.quotes.find((each) => ruleId === `available/${quoteTitle(each)}`)
  if (quote?.availablePacks !== undefined) {
    const availablePacks = amount === null ? null : quote.availablePacks + Math.ceil(amount)
    return { kind: 'packs', quote: quoteTitle(quote), availablePacks }
  }
  const dealer = season.dealers.find((each) => ruleId === `delivers/${each.name}`)
  if (dealer?.mostPounds !== undefined) {
    return { kind: 'delivers', dealer: dealer.name, mostPounds: amount === null ? null : dealer.mostPounds + amount }
  }
  const carried = season.carried.find((each) => ruleId === `must-use/${each.variety}`)
  if (carried === undefined) return null
  return { kind: 'may-stay', variety: carried.variety, ...(amount === null ? {} : { pounds: amount }) }
}

function acres(season: Season, ruleId: string, amount: number | null): WhatIf | null {
  const contract = season.rules.find((rule) => rule.rule === 'contract' && ruleId === `contract/${rule.subject ?? ''}`)
  if (contract !== undefined) return byOrOff('contract', contract.subject, amount === null ? null : -amount)
  const variety = season.varieties.find((each) => ruleId === `largest-share/${each.name}`)?.name
  if (variety === undefined) return null
  const rules = season.rules.filter((rule) => rule.isOn && rule.rule === 'largest-share')
  const rule = rules.find(({ subject }) => subject === variety) ?? rules.find(({ subject }) => subject === undefined)
  const total = season.fields.reduce((sum, field) => sum + field.acres, 0)
  if (amount === null || rule?.amount === undefined || total <= 0) return { kind: 'share', variety, share: 1 }
  // Up to a hundredth of a percent, so that the acres asked for are there.
  const share = Math.ceil((rule.amount + amount / total) * 10_000) / 10_000
  return { kind: 'share', variety, share: Math.min(1, share) }
}

function counted(season: Season, ruleId: string, amount: number | null): WhatIf | null {
  const kind = [...byMore, ...byLess].find((each) => each === ruleId)
  if (kind !== undefined) return byOrOff(kind, undefined, amount === null || byMore.includes(kind) ? amount : -amount)
  // Rules that work before the solver are named by kind and subject.
  const own = season.rules.find(
    ({ rule, subject }) => ruleId === (subject === undefined ? rule : `${rule}/${subject}`) && rule in ruleKinds,
  )
  return own === undefined || amount !== null ? null : byOrOff(own.rule, own.subject, null)
}

function byOrOff(rule: RuleKind, subject: string | undefined, by: number | null): WhatIf {
  const of = { rule, ...(subject === undefined ? {} : { subject }) }
  return by === null ? { kind: 'rule-off', ...of } : { kind: 'rule-by', ...of, by }
}

/** Hours of one week come from longer days, which are longer in the others too. */
function hours(season: Season, ruleId: string, amount: number | null): WhatIf | null {
  const machine = machineKinds.find((kind) => ruleId === `${kind}-hours`)
  if (machine === undefined) return null
  if (amount === null) return { kind: 'rule-off', rule: `${machine}-hours` }
  const perHour = hoursOfOneMore(season, machine)
  if (perHour <= 0) return null
  // Up to a hundredth of an hour, and no day is longer than it is.
  const longer = Math.ceil((amount / perHour) * 100 - 1e-6) / 100
  const own = season.machines.filter(({ kind }) => kind === machine)
  return own.every(({ hoursPerDay }) => hoursPerDay + longer <= 24)
    ? { kind: 'longer-days', machine, hours: longer }
    : null
}

/** [machine-hour] that an hour more a day gives in the week that has the fewest, of those that have any at all. */
function hoursOfOneMore(season: Season, machine: MachineKind): number {
  const calendar = readCalendar(season, new Book(starterBook, season.assumptions))
  const count = season.machines.reduce((sum, each) => sum + (each.kind === machine ? each.count : 0), 0)
  const days = worked(season, calendar, machine)
    .map((week) => fitDaysIn(calendar, workOf[machine], week))
    .filter((fit) => fit > 0)
  return days.length === 0 ? 0 : count * Math.min(...days)
}

/** Weeks in which a machine may be at work: a planter while windows are open, the others while digging is safe. */
function worked(season: Season, calendar: Calendar, machine: MachineKind): string[] {
  if (machine === 'planter') return plantingWeeks(season).map(({ week }) => week)
  const weeks: string[] = []
  const first = weekOf(addDays(calendar.lastDigging, -SEASON))
  for (let week = first; week <= calendar.lastDigging; week = addDays(week, 7)) weeks.push(week)
  return weeks
}

/** [day] before the last safe day of digging that digging begins at the soonest. */
const SEASON = 84

const workOf = { planter: 'planting', digger: 'digging', combine: 'combining' } as const
