/** The calendar as plain text: what each week holds against what fits, then the orders of planting and of digging. */
import { diggingOrder, plantingOrder, type WorkRow } from '../../../src-shared/calendar-order.ts'
import { fieldWorks, type CalendarView, type Load } from '../../../src-shared/calendar-view.ts'
import { showAcres, showDate, showWhole } from '../../../src-shared/show.ts'
import { textTable } from './text-table.ts'

export function calendarText(view: CalendarView): string {
  const loads = view.weeks
    .filter(({ loads }) => fieldWorks.some((work) => loads[work].acres > 0))
    .map(({ week, loads }) => [showDate(week), ...fieldWorks.map((work) => loadWords(loads[work]))])
  return [
    'Acres by week',
    textTable(['Week of', 'Planting', 'Digging', 'Combining'], loads, [1, 2, 3]),
    'Planting order',
    orderTable(plantingOrder(view)),
    'Digging order',
    orderTable(diggingOrder(view)),
    `Last insurable planting day ${showDate(view.lastInsured)}, last safe digging day ${showDate(view.lastDigging)}.`,
    '',
  ].join('\n')
}

function orderTable(rows: readonly WorkRow[]): string {
  const cells = rows.map((row) => [
    showDate(row.week),
    row.field,
    row.variety,
    showAcres(row.acres),
    showDate(row.ripe),
    row.note,
  ])
  return textTable(['Week of', 'Field', 'Variety', 'Acres', 'Best day', 'Note'], cells, [3])
}

/** “84 of 120”, or the acres alone where the farm lists no machine for it. */
function loadWords({ acres, fits }: Load): string {
  if (acres < 0.05) return ''
  return fits === null ? showWhole(acres) : `${showWhole(acres)} of ${showWhole(fits)}`
}
