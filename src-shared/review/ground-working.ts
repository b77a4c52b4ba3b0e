/** The working behind stands, losses seen and margins: what was told field by field. */
import { tQuantile } from '../agronomy/student-t.ts'
import { bookTerm, line, term } from '../agronomy/working.ts'
import { ok, type Result } from '../problem.ts'
import type { Figure, FigureWorking } from './figure.ts'
import { ownSeed } from './ground.ts'
import type { Reckoning, Review } from './review.ts'
import { named, noSuch, sumLine } from './sum-line.ts'

export function standWorking(
  { record, stands, context }: Reckoning,
  { dealer, lotId }: Extract<Figure, { of: 'stand' }>,
): Result<FigureWorking> {
  const lots = record.lots.filter(
    (lot) => lot.state !== 'refused' && (lot.dealer ?? ownSeed) === dealer && (lotId === null || lot.id === lotId),
  )
  const [first] = lots
  if (first === undefined) return noSuch('lot of', dealer)
  const title = `Germination and stands of ${lotId === null ? dealer : `lot ${first.name}`}`
  const ids = new Set(lots.map(({ id }) => id))
  const own = stands.filter(({ planting }) => planting.lots.some((lot) => ids.has(lot.lotId)))
  const pounds = lots.reduce((sum, lot) => sum + lot.pounds, 0)
  // Of lots that came without a pound none is a part of the whole.
  const weighed = pounds > 0 ? lots : []
  const germinations = weighed.map((lot) =>
    line({
      id: `germination/${lot.id}`,
      label: `Lot ${lot.name}: what it germinates by ${lot.germinationFrom}, and its part of the whole`,
      value: (lot.germination * lot.pounds) / pounds,
      unit: 'share',
      rule: 'over the last',
      terms: [
        term('germination', lot.germination, 'share'),
        term('came', lot.pounds, 'lb'),
        term('in all', pounds, 'lb'),
      ],
      note: `Promised: ${Math.round(lot.promised.germination * 100)} %.`,
    }),
  )
  const counted = own.flatMap(({ field, found, promised, germination, planting, rowPattern, countedOn }) => {
    if (promised === null || germination === null || planting.seedsPerFoot === null) return []
    const key = `emergence/field/${rowPattern}`
    return [
      line({
        id: `stand/${planting.id}`,
        label: `Stand promised on ${field}`,
        value: planting.seedsPerFoot * germination * context.book.number(key),
        unit: 'plants/ft',
        rule: 'product' as const,
        terms: [
          term('drop', planting.seedsPerFoot, 'seeds/ft'),
          term('germination of its lots, by pounds', germination, 'share'),
          bookTerm(context.book, key, 'field emergence'),
        ],
        note: `Counted on ${countedOn}: ${found.toFixed(2)} plants a foot. ${context.book.number('emergence/falls per seed') === 0 ? '' : `With emergence that falls with the drop ${promised.toFixed(2)} were promised. `}${planting.lots.length > 1 ? 'Of several lots together.' : ''}`,
      }),
    ]
  })
  return ok({ title, lines: [...germinations, ...counted] })
}

export function troubleWorking(_: Reckoning, review: Review, threat: string): Result<FigureWorking> {
  const found = review.trouble.find((each) => each.threat === threat)
  if (found === undefined) return noSuch('threat', threat)
  const fields = found.fields.filter(({ expectedCents, seenCents }) => expectedCents > 0 || (seenCents ?? 0) > 0)
  const expected = fields.map(({ field, expectedCents }) => term(field, expectedCents / 100, '$'))
  const told = found.fields.flatMap((each) => (each.seenCents === null ? [] : [{ ...each, seenCents: each.seenCents }]))
  const lines = [
    sumLine('expected', `Expected loss to ${threat}`, '$', expected, 'By the book as it was when the plan was made.'),
  ]
  if (told.length > 0) {
    lines.push(
      sumLine(
        'seen',
        `Seen loss to ${threat}`,
        '$',
        told.map(({ field, seenCents }) => term(field, seenCents / 100, '$')),
      ),
    )
  }
  for (const each of told.slice(0, named)) {
    lines.push(
      line({
        id: `seen/${each.field}`,
        label: `Seen on ${each.field}`,
        value: each.seenCents / 100,
        unit: '$',
        rule: 'product',
        terms: [
          term(
            'share of the crop that it took, as told',
            each.cropCents > 0 ? each.seenCents / each.cropCents : 0,
            'share',
          ),
          term('what its crop would have brought', each.cropCents / 100, '$'),
        ],
      }),
    )
  }
  return ok({ title: `Loss to ${threat}`, lines })
}

export function marginWorking(review: Review, variety: string): Result<FigureWorking> {
  const found = review.margins.varieties.find((each) => each.variety === variety)
  if (found === undefined) return noSuch('variety', variety)
  const { fields, spread } = found
  const count = term('fields', fields.length, '')
  const all = fields.reduce((sum, { perAcre }) => sum + perAcre, 0) / 100
  const lines = [
    line({
      id: 'mean',
      label: 'Mean of its fields, each weighing the same',
      value: spread.mean / 100,
      unit: '$/acre',
      rule: 'over the last',
      terms: [term('sum of the fields', all, '$/acre'), count],
    }),
    sumLine(
      'fields',
      'Sum of the fields',
      '$/acre',
      fields.map(({ field, perAcre }) => term(field, perAcre / 100, '$/acre')),
    ),
    ...fields.slice(0, named).map((each) =>
      line({
        id: `field/${each.field}`,
        label: `${each.field}: value less cost, an acre`,
        value: each.perAcre / 100,
        unit: '$/acre',
        rule: 'over the last',
        terms: [
          term('value less cost', (each.valueCents - each.costCents) / 100, '$'),
          term('planted', each.acres, 'acre'),
        ],
      }),
    ),
  ]
  if (spread.deviation !== null) {
    const t = tQuantile(0.95, fields.length - 1)
    lines.push(
      line({
        id: 'half',
        label: 'Half the width of the 95 % interval',
        value: (t * spread.deviation) / 100 / Math.sqrt(fields.length),
        unit: '$/acre',
        rule: 'over the last',
        terms: [
          term(`t of ${fields.length - 1} degrees`, t, ''),
          term('deviation of a field about the mean', spread.deviation / 100, '$/acre'),
          term('root of the number of fields', Math.sqrt(fields.length), ''),
        ],
      }),
    )
  }
  return ok({ title: `Left of an acre of ${variety}`, lines })
}
