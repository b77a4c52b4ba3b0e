/** The working behind what a field, variety, dealer or lot cost and brought: down to each bill and load. */
import { line, term, type WorkingLine, type WorkingTerm } from '../agronomy/working.ts'
import { ok, type Result } from '../problem.ts'
import { costParts, type Bill, type CostPart, type Post } from './bill.ts'
import type { Figure, FigureWorking, MoneyFigure } from './figure.ts'
import { keyIn, type MoneyRow, type View } from './money-rows.ts'
import type { Reckoning, Review } from './review.ts'
import { named, noSuch, sumLine } from './sum-line.ts'

type MoneyAsked = Extract<Figure, { of: 'money' }>

export function moneyWorking(
  reckoning: Reckoning,
  review: Review,
  { view, key, what }: MoneyAsked,
): Result<FigureWorking> {
  const table = review.money[view]
  const row = key === '' ? table.total : table.rows.find((each) => each.key === key)
  if (row === undefined) return noSuch(view, key ?? 'row of what cannot be placed')
  const title = `${titles[what]}, ${row.key === '' ? 'the whole farm' : row.label}`
  return ok({ title, lines: moneyLines(reckoning, view, row, what) })
}

const titles: Record<MoneyFigure, string> = {
  seed: 'Seed planted',
  'seed left': 'Seed left over',
  'seed returned': 'What returned seed cost beyond its credit',
  measures: 'Measures',
  replanting: 'Planting again',
  digging: 'Digging',
  combining: 'Combining',
  other: 'Other costs',
  cost: 'Cost',
  tons: 'Tons harvested',
  value: 'Value of the crop',
  margin: 'Left after cost',
  'per acre': 'Cost an acre',
  'per ton': 'Cost a ton',
}

function moneyLines(reckoning: Reckoning, view: View, row: MoneyRow, what: MoneyFigure): WorkingLine[] {
  const cost = () =>
    sumLine(
      'cost',
      titles.cost,
      '$',
      costParts.flatMap((part) => costTerm(row, part)),
    )
  switch (what) {
    case 'cost':
      return [
        cost(),
        ...costParts.flatMap((part) => (row.costs[part] === 0 ? [] : partLines(reckoning, view, row, part))),
      ]
    case 'tons':
      return cropLines(reckoning, view, row, 'tons')
    case 'value':
      return cropLines(reckoning, view, row, 'cents')
    case 'margin':
      return [
        sumLine('margin', titles.margin, '$', [
          term('value of the crop', (row.valueCents ?? 0) / 100, '$'),
          term('cost', -row.costCents / 100, '$'),
        ]),
        cost(),
      ]
    case 'per acre':
    case 'per ton': {
      const by = what === 'per acre' ? row.acres : row.tons
      const unit = what === 'per acre' ? 'acre' : 'ton'
      if (by === null || by <= 0) return [cost()]
      const terms = [term('cost', row.costCents / 100, '$'), term(what === 'per acre' ? 'planted' : 'net', by, unit)]
      const value = row.costCents / 100 / by
      return [line({ id: what, label: titles[what], value, unit: `$/${unit}`, rule: 'over the last', terms }), cost()]
    }
    default:
      return partLines(reckoning, view, row, what)
  }
}

function costTerm(row: MoneyRow, part: CostPart): WorkingTerm[] {
  return row.costs[part] === 0 ? [] : [term(titles[part].toLowerCase(), row.costs[part] / 100, '$')]
}

const isIn = (view: View, row: MoneyRow) => (post: Pick<Post, 'field' | 'variety' | 'dealer' | 'lotId'>) =>
  row.key === '' || keyIn(view, post) === row.key

function partLines({ bills }: Reckoning, view: View, row: MoneyRow, part: CostPart): WorkingLine[] {
  const own = bills
    .filter((bill) => bill.part === part)
    .flatMap((bill) => {
      const posts = bill.posts.filter(isIn(view, row))
      return posts.length > 0 ? [{ bill, posts, cents: posts.reduce((sum, { cents }) => sum + cents, 0) }] : []
    })
    .sort((a, b) => Math.abs(b.cents) - Math.abs(a.cents))
  const terms = own.map(({ bill, cents }) => term(`${bill.says} (${bill.from})`, cents / 100, '$'))
  const below = new Map<string, WorkingLine>()
  for (const { bill, posts, cents } of own.slice(0, named)) {
    for (const each of bill.lines) below.set(each.id, each)
    const share = shareLine(bill, posts, cents)
    if (share !== null) below.set(share.id, share)
  }
  return [sumLine(part, titles[part], '$', terms), ...below.values()]
}

/** Null where all of the bill is here. */
function shareLine(bill: Bill, posts: readonly Post[], cents: number): WorkingLine | null {
  if (posts.length === bill.posts.length) return null
  const weight = (list: readonly Post[]) => list.reduce((sum, each) => sum + each.weight, 0)
  const unit = bill.sharedBy === 'pounds' ? 'lb' : 'acre'
  const all = weight(bill.posts)
  if (all <= 0) return null
  return line({
    id: `share of ${bill.lines.at(-1)?.id ?? bill.says}`,
    label: `Share of ${bill.says}, by ${bill.sharedBy}`,
    value: cents / 100,
    unit: '$',
    rule: 'over the last',
    terms: [term(bill.says, bill.cents / 100, '$'), term('here', weight(posts), unit), term('in all', all, unit)],
    note: 'Shares are whole cents that add up to the bill.',
  })
}

function cropLines({ crops }: Reckoning, view: View, row: MoneyRow, of: 'tons' | 'cents'): WorkingLine[] {
  const own = crops.flatMap((crop) => {
    const posts = crop.posts.filter(isIn(view, row))
    if (posts.length === 0) return []
    return [
      { crop, amount: posts.reduce((sum, post) => sum + post[of], 0), isShared: posts.length < crop.posts.length },
    ]
  })
  const [unit, scale, title] = of === 'tons' ? (['ton', 1, titles.tons] as const) : (['$', 100, titles.value] as const)
  const terms = own.map(({ crop, amount, isShared }) =>
    term(`${isShared ? 'share by acres of ' : ''}${crop.says}`, amount / scale, unit),
  )
  const lines = own.slice(0, named).flatMap(({ crop }) => crop.lines.filter(({ unit: own }) => own === unit))
  const note = row.unpricedTons > 0 ? 'Some of it has no price yet and is not counted.' : undefined
  return [sumLine(of, title, unit, terms, note), ...lines]
}
