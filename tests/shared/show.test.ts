/** How values are written, at the ends of their ranges: what is too little to say is not said. */
import { expect, test } from 'vitest'
import * as show from '../../src-shared/show.ts'

test.each([
  [show.showWhole(1284.4), '1,284'],
  [show.showAcres(88), '88'],
  [show.showAcres(88.44), '88.4'],
  [show.showDollars(19_136_049), '$191,360'],
  [show.showCents(4610), '$46.10'],
  [show.showPerAcre(4610, 2), '$23.05/ac'],
  [show.showPerAcre(4610, 0), '–'],
  [show.showChange(410), '+$4.10'],
  [show.showChange(-410), '−$4.10'],
  [show.showChange(0.4), ''],
  [show.showPercent(0.03), '3 %'],
  [show.showPercent(0.0254), '2.5 %'],
  [show.showPercent(0.0254, 2), '2.54 %'],
  [show.showCount(1, 'bag'), '1 bag'],
  [show.showCount(1200, 'bag'), '1,200 bags'],
  [show.showCount(2, 'planting is', 'plantings are'), '2 plantings are'],
  [show.showNumber(5.084, 2), '5.08'],
  [show.showWholeChange(0.4), ''],
  [show.showWholeChange(12.2), '+12'],
  [show.showWholeChange(-1200), '−1,200'],
  [show.showDollarChange(49), ''],
  [show.showDollarChange(125_000), '+$1,250'],
  [show.showDollarChange(-125_000), '−$1,250'],
  [show.showDay('2027-03-15'), 'Mar 15, 2027'],
  [show.showShort('Change Hill', 11), 'Change Hill'],
  [show.showShort('Change Hill', 10), 'Change Hi…'],
  [show.showShort('Change 🥜🥜', 9), 'Change …'],
  [show.showShort('Change 🥜🥜', 10), 'Change 🥜…'],
])('%s', (shown, expected) => expect(shown).toBe(expected))
