/** Working of an option's yield, vine, give-up, cash and machine hours. */
import type { Field } from '../field.ts'
import type { Measure } from '../threat.ts'
import type { Variety } from '../variety.ts'
import type { MachineKind } from '../window.ts'
import { rotationIndex, type Context } from './context.ts'
import { acresPerHour, hoursPerAcre } from './harvest.ts'
import { vineKey } from './vine.ts'
import { bookTerm, line, term, type WorkingLine } from './working.ts'

/** Expected yield and what it would bring if nothing ailed it. */
export function explainYield(context: Context, field: Field): { lines: WorkingLine[]; dollars: number } {
  const { book } = context
  const index = rotationIndex(context, field)
  const yieldLb = field.yieldGoalLb * (index?.value ?? 1)
  const dollars = (yieldLb * book.number('price/peanuts')) / 2000
  return {
    dollars,
    lines: [
      line({
        id: 'yield',
        label: 'Expected yield',
        value: yieldLb,
        unit: 'lb/acre',
        rule: 'product',
        terms: [
          term(`yield goal of ${field.name}`, field.yieldGoalLb, 'lb/acre'),
          ...(index ? [bookTerm(book, index.key, 'years out of peanut', index.value)] : []),
        ],
        note: index ? undefined : 'No crops of earlier years are known here, so the goal stands as it is.',
      }),
      line({
        id: 'crop dollars',
        label: 'What the crop would bring',
        value: dollars,
        unit: '$/acre',
        rule: 'over the last',
        terms: [
          term('expected yield', yieldLb, 'lb/acre'),
          bookTerm(book, 'price/peanuts', 'price'),
          term('pounds in a ton', 2000, 'lb/ton'),
        ],
      }),
    ],
  }
}

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
  const all = line({
    id: `rate/all ${kind}s`,
    label: `Acres an hour of all ${kind}s`,
    value: own.reduce((sum, machine, m) => sum + machine.count * (rates[m] as WorkingLine).value, 0),
    unit: 'acre/h',
    rule: 'sum',
    // A machine that the farm has three of stands here three times: a sum stays a sum.
    terms: own.flatMap((machine, m) =>
      Array.from({ length: machine.count }, () => term(machine.name, (rates[m] as WorkingLine).value, 'acre/h')),
    ),
  })
  const count = own.reduce((sum, machine) => sum + machine.count, 0)
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
    terms: [...slowed, term(`${kind}s`, count, ''), term('acres an hour of all', all.value, 'acre/h')],
  })
  return [...rates, all, hours]
}

/** What the vine costs: pods left in the ground and slower machines, less a growth regulator's gain. */
export function explainVine(context: Context, field: Field, variety: Variety, yieldDollars: number): WorkingLine[] {
  const { book, season } = context
  const vine = context.vine[variety.vine][field.growth]
  const key = (what: string) => vineKey(variety.vine, field.growth, what)
  const left = line({
    id: 'vine/left in the ground',
    label: 'Pods left in the ground',
    value: vine.digLoss * yieldDollars,
    unit: '$/acre',
    rule: 'product',
    terms: [
      bookTerm(book, key('digging loss'), `a ${variety.vine} vine on ${field.growth} ground`),
      term('crop', yieldDollars, '$/acre'),
    ],
  })
  const slower = (['digger', 'combine'] as const).map((kind) => {
    const [slow, usual] = [hoursPerAcre(season.machines, kind, vine.slowing), hoursPerAcre(season.machines, kind, 0)]
    return line({
      id: `vine/slower ${kind}`,
      label: `Slower ${kind}`,
      value: (slow - usual) * book.number(`harvest/${kind} hour`),
      unit: '$/acre',
      rule: 'extra hours',
      terms: [
        term('hours with this vine', slow, 'machine-hour/acre'),
        term('hours without', usual, 'machine-hour/acre'),
        bookTerm(book, `harvest/${kind} hour`, `an hour of the ${kind}`),
      ],
    })
  })
  const parts = [left, ...slower]
  if (vine.action === 'growth regulator') {
    parts.push(
      line({
        id: 'vine/growth regulator',
        label: 'Gain by the growth regulator',
        value: (-context.regulatorGainLb * book.number('price/peanuts')) / 2000,
        unit: '$/acre',
        rule: 'over the last',
        terms: [
          term('a gain counts against the cost', -1, ''),
          bookTerm(book, 'vine/growth regulator/yield gain', 'gain in yield'),
          bookTerm(book, 'price/peanuts', 'price'),
          term('pounds in a ton', 2000, 'lb/ton'),
        ],
        note: 'Trials disagree; no gain is counted unless the house says so.',
      }),
    )
  }
  const value = parts.reduce((sum, part) => sum + part.value, 0)
  const terms = parts.map((part) => term(part.label, part.value, part.unit))
  return [...parts, line({ id: 'vine', label: 'What the vine costs', value, unit: '$/acre', rule: 'sum', terms })]
}

/** What the best variety of the list would bring more here. */
export function explainGiveUp(context: Context, variety: Variety, yieldDollars: number): WorkingLine[] {
  if (!context.countsGiveUp) {
    const off = term('the rule that counts it is off', 0, '$/acre')
    return [line({ id: 'give-up', label: 'What is given up', value: 0, unit: '$/acre', rule: 'sum', terms: [off] })]
  }
  const own = variety.yieldIndex * variety.gradeIndex
  return [
    line({
      id: 'index',
      label: `Yield and grade of ${variety.name}`,
      value: own,
      unit: '× the usual',
      rule: 'product',
      terms: [term('yield', variety.yieldIndex, '×'), term('grade', variety.gradeIndex, '×')],
    }),
    line({
      id: 'give-up',
      label: 'What is given up against the best variety',
      value: Math.max(0, context.bestIndex - own) * yieldDollars,
      unit: '$/acre',
      rule: 'shortfall',
      terms: [
        term('best yield and grade of all varieties', context.bestIndex, '×'),
        term(`yield and grade of ${variety.name}`, own, '×'),
        term('crop', yieldDollars, '$/acre'),
      ],
    }),
  ]
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
  const work = bookTerm(context.book, vineKey(variety.vine, field.growth, 'cost'), `for the vine: ${vine.action}`)
  return line({
    id: 'cash',
    label: 'Paid beside the seed',
    value: programme.reduce((sum, measure) => sum + measure.centsPerAcre, vine.cents) / 100,
    unit: '$/acre',
    rule: 'sum',
    terms: [...measures, work],
  })
}
