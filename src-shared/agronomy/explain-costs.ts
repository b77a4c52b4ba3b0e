/** Working of an option's cash and machine hours. */
import type { Field } from '../field.ts'
import type { Measure } from '../threat.ts'
import type { Variety } from '../variety.ts'
import type { Machine, MachineKind } from '../window.ts'
import type { Context } from './context.ts'
import { acresPerHour, hoursPerAcre } from './harvest.ts'
import { vineKey } from './vine.ts'
import { vineWorkOf } from './vine-work.ts'
import { bookTerm, line, term, type WorkingLine } from './working.ts'

/** Planter, digger and combine hours an acre; the vine slows the last two. */
export function explainHours(context: Context, field: Field, variety: Variety): WorkingLine[] {
  return (['planter', 'digger', 'combine'] as const).flatMap((kind) => hoursLines(context, field, variety, kind))
}

function hoursLines(context: Context, field: Field, variety: Variety, kind: MachineKind): WorkingLine[] {
  const { book, season } = context
  const own = season.machines.filter((machine) => machine.kind === kind)
  if (own.length === 0) {
    const none = term(`the farm lists no ${kind}`, 0, 'machine-hour/acre')
    return [
      line({
        id: `${kind} hours`,
        label: `Hours of the ${kind}`,
        value: 0,
        unit: none.unit,
        rule: 'sum',
        terms: [none],
      }),
    ]
  }
  const rates = own.map((machine) =>
    line({
      id: `rate/${machine.name}`,
      label: `Acres an hour of ${machine.name}`,
      value: acresPerHour(machine.speedMph, machine.widthFt, machine.fieldEfficiency),
      unit: 'acre/h',
      rule: 'over the last',
      terms: [
        term('speed', machine.speedMph, 'mph'),
        term('width', machine.widthFt, 'ft'),
        term('field efficiency', machine.fieldEfficiency, 'share'),
        term('8.25 from miles and feet to acres', 8.25, ''),
      ],
    }),
  )
  const runs = own.some(({ hoursPerDay }) => hoursPerDay > 0)
  const day = (machine: Machine) => machine.count * (runs ? machine.hoursPerDay : 1)
  const daily = own.map((machine, m) =>
    line({
      id: `day/${machine.name}`,
      label: `Acres a day of ${machine.name}`,
      value: day(machine) * (rates[m] as WorkingLine).value,
      unit: 'acre/day',
      rule: 'product',
      terms: [
        term('machines', machine.count, ''),
        term('hours a day', runs ? machine.hoursPerDay : 1, 'h'),
        term('acres an hour', (rates[m] as WorkingLine).value, 'acre/h'),
      ],
    }),
  )
  const all = line({
    id: `day/all ${kind}s`,
    label: `Acres a day of all ${kind}s`,
    value: daily.reduce((sum, { value }) => sum + value, 0),
    unit: 'acre/day',
    rule: 'sum',
    terms: own.map((machine, m) => term(machine.name, (daily[m] as WorkingLine).value, 'acre/day')),
  })
  const hoursADay = own.reduce((sum, machine) => sum + day(machine), 0)
  const slowing = kind === 'planter' ? 0 : context.vine[variety.vine][field.growth].slowing
  const key = vineKey(variety.vine, field.growth, 'slowing')
  const slowed =
    kind === 'planter'
      ? []
      : [
          {
            ...bookTerm(book, key, `1 + slowing by a ${variety.vine} vine on ${field.growth} ground`, 1 + slowing),
            unit: '×',
          },
        ]
  const hours = line({
    id: `${kind} hours`,
    label: `Hours of the ${kind}`,
    value: hoursPerAcre(season.machines, kind, slowing),
    unit: 'machine-hour/acre',
    rule: 'over the last',
    terms: [
      ...slowed,
      term('machine-hours a day', hoursADay, 'machine-hour'),
      term('acres a day', all.value, 'acre/day'),
    ],
  })
  return [...rates, ...daily, all, hours]
}

/** What is paid an acre beside the seed: every measure, and what the vine table asks for. */
export function explainCash(
  context: Context,
  field: Field,
  variety: Variety,
  programme: readonly Measure[],
): WorkingLine {
  const vine = context.vine[variety.vine][field.growth]
  const measures = programme.map((measure) => ({
    ...term(measure.name, measure.centsPerAcre / 100, '$/acre'),
    ...(measure.source === undefined ? {} : { source: measure.source }),
  }))
  const paid = vineWorkOf(context, vine, variety)
  const work = bookTerm(
    context.book,
    vineKey(variety.vine, field.growth, 'cost'),
    paid.isLeftOff ? 'growth regulator, left off: it would cost more than it brings' : `for the vine: ${vine.action}`,
    paid.cents / 100,
  )
  return line({
    id: 'cash',
    label: 'Paid beside the seed',
    value: programme.reduce((sum, measure) => sum + measure.centsPerAcre, paid.cents) / 100,
    unit: '$/acre',
    rule: 'sum',
    terms: [...measures, work],
  })
}
