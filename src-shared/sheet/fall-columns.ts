/** The columns of fall's sheets: loads, trouble seen, costs. */
import { costKinds } from '../cost.ts'
import { pressureLevels } from '../field.ts'
import { priceBases } from '../load.ts'
import { note, oneOf, type Names, type SheetColumn } from './column.ts'
import { choice, day, dollars, number, percent, words, yesNo } from './kind.ts'

/** As a buying point's settlement heads them, besides our own. */
export const loadColumns = ({ fields, varieties }: Names): SheetColumn[] => [
  { id: 'field', label: 'Field', kind: oneOf(fields), isNeeded: true, heads: ['field name', 'farm field'] },
  {
    id: 'ticket',
    label: 'Ticket',
    kind: words,
    heads: ['ticket no', 'ticket number', 'scale ticket', 'load', 'load no'],
  },
  {
    id: 'hauledOn',
    label: 'Hauled',
    unit: 'as 2027-10-02',
    kind: day,
    isNeeded: true,
    heads: ['date', 'delivered', 'delivery date', 'date delivered', 'date weighed', 'ticket date'],
  },
  { id: 'variety', label: 'Variety', unit: 'empty: as planted', kind: oneOf(varieties) },
  {
    id: 'grossPounds',
    label: 'Gross',
    unit: 'lb',
    kind: number(),
    isNeeded: true,
    heads: ['gross weight', 'gross wt', 'gross pounds', 'gross'],
  },
  {
    id: 'tarePounds',
    label: 'Tare',
    unit: 'lb',
    kind: number(),
    heads: ['tare weight', 'tare wt', 'tare pounds', 'tare'],
  },
  {
    id: 'moisture',
    label: 'Moisture',
    unit: '%',
    kind: percent,
    heads: ['moist', 'moist %', '% moisture', 'h2o', 'mc'],
  },
  {
    id: 'foreignMaterial',
    label: 'Foreign material',
    unit: '%',
    kind: percent,
    heads: ['fm', 'fm %', '% fm', 'foreign matter', 'foreign'],
  },
  {
    id: 'looseKernels',
    label: 'Loose kernels',
    unit: '%',
    kind: percent,
    heads: ['lsk', 'lsk %', '% lsk', 'loose shelled kernels', 'loose shelled'],
  },
  {
    id: 'soundMatureKernels',
    label: 'Sound mature',
    unit: '%',
    kind: percent,
    heads: ['smk', 'smk %', '% smk', 'sound mature kernels'],
  },
  { id: 'soundSplits', label: 'Sound splits', unit: '%', kind: percent, heads: ['ss', 'ss %', '% ss', 'splits'] },
  { id: 'otherKernels', label: 'Other kernels', unit: '%', kind: percent, heads: ['ok', 'ok %', '% ok'] },
  {
    id: 'damagedKernels',
    label: 'Damaged',
    unit: '%',
    kind: percent,
    heads: ['dk', 'dk %', '% dk', 'damage', 'damage %', 'damaged kernels', 'dam', 'td', 'total damage'],
  },
  { id: 'hulls', label: 'Hulls', unit: '%', kind: percent, heads: ['hull', 'hull %', '% hulls'] },
  { id: 'segregation', label: 'Segregation', unit: '1–3', kind: number(), heads: ['seg', 'seg no', 'segregation'] },
  { id: 'priceBasis', label: 'Sold by', kind: choice(priceBases), heads: ['price basis', 'basis', 'sold'] },
  {
    id: 'centsPerTon',
    label: 'Price',
    unit: '$/ton',
    kind: dollars,
    heads: ['price per ton', 'contract price', 'price', '$ per ton'],
  },
  {
    id: 'paidCents',
    label: 'Paid',
    unit: '$',
    kind: dollars,
    heads: ['amount', 'amount paid', 'net amount', 'settlement', 'total paid', 'value', '$ paid'],
  },
  { id: 'buyer', label: 'Buyer', kind: words, heads: ['buying point', 'sold to', 'sheller'] },
  { ...note, width: 20 },
]

export const seenColumns = ({ fields, threats }: Names): SheetColumn[] => [
  { id: 'field', label: 'Field', kind: oneOf(fields), isNeeded: true, heads: ['field name'] },
  { id: 'threat', label: 'Threat', kind: oneOf(threats), isNeeded: true, heads: ['trouble', 'disease', 'problem'] },
  {
    id: 'level',
    label: 'How bad',
    kind: choice(pressureLevels),
    isNeeded: true,
    heads: ['level', 'severity', 'pressure'],
  },
  { id: 'seenOn', label: 'Seen', unit: 'as 2027-08-20', kind: day, heads: ['date', 'seen on', 'scouted'] },
  {
    id: 'loss',
    label: 'Took of the crop',
    unit: '%, empty: unknown',
    kind: percent,
    heads: ['loss', 'loss %', 'yield loss'],
  },
  note,
]

export const costColumns = ({ fields, dealers }: Names): SheetColumn[] => [
  {
    id: 'says',
    label: 'What for',
    kind: words,
    isNeeded: true,
    width: 24,
    heads: ['says', 'description', 'item', 'memo'],
  },
  { id: 'kind', label: 'Kind', kind: choice(costKinds), isNeeded: true, heads: ['category', 'type'] },
  // A credit is less than nothing.
  {
    id: 'cents',
    label: 'Amount',
    unit: '$',
    kind: dollars,
    isNeeded: true,
    heads: ['amount', 'cost', 'cost $', 'total'],
  },
  { id: 'perAcre', label: 'An acre', unit: 'yes: $ an acre planted', kind: yesNo, heads: ['per acre'] },
  { id: 'field', label: 'Field', unit: 'empty: whole farm', kind: oneOf(fields), heads: ['field name'] },
  { id: 'dealer', label: 'Dealer', unit: 'of an invoice', kind: oneOf(dealers), heads: ['vendor'] },
  { id: 'spentOn', label: 'Day', unit: 'as 2027-06-01', kind: day, heads: ['date', 'spent on', 'invoice date'] },
  note,
]
