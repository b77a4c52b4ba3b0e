/** Deliveries, rates and the trace as plain text, for a terminal or a note. */
import { receiptWords, type DeliveriesNow } from '../../../src-shared/delivery.ts'
import type { RatesNow } from '../../../src-shared/rates.ts'
import { showAcres, showCents, showDay, showNumber, showPercent, showWhole } from '../../../src-shared/show.ts'
import { remedyPrice } from '../../../src-shared/supply.ts'
import { cautions } from '../../../src-shared/threat.ts'
import type { TraceNow } from '../../../src-shared/trace.ts'
import { textTable } from './text-table.ts'

export function deliveriesText({ dealers, onHand }: DeliveriesNow): string {
  const lots = [...dealers.flatMap(({ deliveries }) => deliveries.flatMap((each) => each.lots)), ...onHand]
  const parts = dealers.map(({ dealer, lines, owedPounds, creditCents }) => {
    const rows = lines.map((line) => [
      line.quote,
      showWhole(line.pounds),
      showWhole(line.camePounds),
      showWhole(line.refusedPounds),
      showWhole(line.owedPounds),
      receiptWords(line),
    ])
    return [
      dealer,
      textTable(['Quote', 'Agreed lb', 'Came', 'Refused', 'Owed', 'Stands'], rows, [1, 2, 3, 4]),
      `Owed ${showWhole(owedPounds)} lb, credit expected ${showCents(creditCents)}.`,
      '',
    ].join('\n')
  })
  const rows = lots.map((lot) => [
    lot.name,
    lot.variety,
    showWhole(lot.pounds),
    showPercent(lot.germination),
    lot.germinationFrom,
    showWhole(lot.seedsCounted),
    lot.state,
  ])
  const faults = lots.flatMap(({ name, checks }) =>
    checks
      .filter(({ verdict }) => verdict === 'fails' || verdict === 'missing')
      .map(({ says, source }) => `Lot ${name}: ${says} (${source})`),
  )
  const table = textTable(['Lot', 'Variety', 'lb', 'Germination', 'From', 'Seeds/lb', 'State'], rows, [2, 3, 5])
  const treated = lots.some(({ isTreated }) => isTreated) ? [cautions.treatedSeed] : []
  return `${[...parts, ...(rows.length > 0 ? [table] : []), ...faults, ...treated].join('\n')}\n`
}

export function ratesText({ planMadeAt, blocks, varieties }: RatesNow): string {
  if (planMadeAt === null) return 'There is no plan: rates need its fields and stands.\n'
  const rows = blocks.flatMap((block) => {
    const base = [block.field, block.variety, showAcres(block.acres)]
    const planned = [showNumber(block.plannedSeedsPerFoot, 2), showNumber(block.plannedPoundsPerAcre, 1)]
    if (block.lots.length === 0) return [[...base, ...planned, '(no lot)', '', '', '']]
    return block.lots.map((lot) => [
      ...base,
      ...planned,
      lot.lot,
      showNumber(lot.seedsPerFoot, 2),
      showNumber(lot.poundsPerAcre, 1),
      lot.packs === null ? '' : showWhole(lot.packs),
    ])
  })
  const supplies = varieties.flatMap((each) => [
    `${each.variety}: ${showAcres(each.acres)} acres to plant, on hand for ${showAcres(each.plantsAcres)}; ` +
      (each.shortAcres > 0
        ? `short of seed for ${showAcres(each.shortAcres)} acres.`
        : `${showWhole(Math.max(0, each.leftPounds))} lb more than needed.`),
    ...each.remedies.map((remedy) => `  ${remedy.says} ${remedyPrice(remedy)}`),
  ])
  return [
    textTable(
      ['Field', 'Variety', 'Acres', 'Planned seeds/ft', 'lb/ac', 'Lot', 'Real seeds/ft', 'lb/ac', 'Packs'],
      rows,
      [2, 3, 4, 6, 7, 8],
    ),
    ...supplies,
    '',
  ].join('\n')
}

export function traceText({ lots, fields }: TraceNow): string {
  const parts = [
    ...lots.map((lot) => {
      const rows = lot.plantings.map((each) => [
        each.field + (each.block === null ? '' : `, ${each.block}`),
        each.plantedOn === null ? 'no day' : showDay(each.plantedOn),
        each.acres === null ? '' : showAcres(each.acres),
        showWhole(each.pounds),
        each.mixedWith.length > 0 ? `with ${each.mixedWith.join(', ')}` : '',
      ])
      const balance =
        `Came ${showWhole(lot.came)} lb, planted ${showWhole(lot.planted)}, returned ${showWhole(lot.returned)}, left ${showWhole(lot.left)}` +
        (lot.off === null ? '' : `, counted ${showWhole(lot.counted ?? 0)}`) +
        (lot.closes ? ': closes.' : ': not closed.')
      return [
        `Lot ${lot.name}, ${lot.variety}, ${lot.dealer ?? 'own'}`,
        ...(rows.length > 0 ? [textTable(['Field', 'Planted', 'Acres', 'lb', 'Mixed'], rows, [2, 3]).trimEnd()] : []),
        balance,
        '',
      ].join('\n')
    }),
    ...fields
      .filter(({ plantings }) => plantings.length > 0)
      .map(({ name, plantings }) => {
        const rows = plantings.map((each) => [
          each.lot,
          each.variety,
          each.plantedOn === null ? 'no day' : showDay(each.plantedOn),
          each.acres === null ? '' : showAcres(each.acres),
          showWhole(each.pounds),
        ])
        return [`Field ${name}`, textTable(['Lot', 'Variety', 'Planted', 'Acres', 'lb'], rows, [3, 4])].join('\n')
      }),
  ]
  return parts.length > 0 ? parts.join('\n') : 'No lot and no planting is written down yet.\n'
}
