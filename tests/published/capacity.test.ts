/** Field capacity against Iowa State University PM 696 (Apr 2001), every row; printed to a tenth of an acre. */
import { expect, it } from 'vitest'
import { acresPerHour } from '../../src-shared/agronomy/harvest.ts'
import { publishedTable } from './read-csv.ts'

it.each(publishedTable('T5a_field_capacity_ISU_PM696_2001.csv'))('$machine', (row) => {
  const acres = acresPerHour(Number(row.speed_mph), Number(row.width_ft), Number(row.field_efficiency_pct) / 100)
  expect(Math.abs(acres - Number(row.published_acres_per_hour))).toBeLessThanOrEqual(0.0501)
})
