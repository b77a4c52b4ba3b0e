/** Working of an option's seed: from the drop to pounds an acre, and the stand it leaves. */
import type { Field } from '../field.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import type { Context } from './context.ts'
import { dropFor } from './drop.ts'
import { emergenceAt, poundsPerAcre, rowFeetPerAcre, seedsPerAcre, SQUARE_FEET_PER_ACRE, standOf } from './seed.ts'
import { bookTerm, line, term, type WorkingLine, type WorkingTerm } from './working.ts'

/**
 * @param planned [seeds/ft] that the plan chose; absent: as the season's own rules have it
 * @returns the lines, and the three that others build on: [seeds/ft], [plants/ft], [lb/acre] without the reserve
 */
export function explainSeed(
  context: Context,
  field: Field,
  variety: Variety,
  window: PlantingWindow,
  planned?: number,
): { lines: WorkingLine[]; seedsPerFoot: number; stand: number; pounds: number } {
  const { book } = context
  const { rowPattern, rowSpacingIn } = field
  const emergence = context.emergence[rowPattern]
  const house = dropFor(context, field, variety, window)
  const isOwn = planned !== undefined && Math.abs(planned - house.seedsPerFoot) > 1e-9 * house.seedsPerFoot
  const { seedsPerFoot, stand, by } = isOwn
    ? { seedsPerFoot: planned, stand: standOf(planned, variety.germination, emergence), by: 'the plan' as const }
    : house
  const germination = term(`germination of ${variety.name}`, variety.germination, 'share')
  const fieldEmergence = bookTerm(book, `emergence/field/${rowPattern}`, `emergence in ${rowPattern} rows`)
  const falls = bookTerm(book, 'emergence/falls per seed', 'fall for each seed a foot')
  const usualDrop = bookTerm(book, `drop/seeds per foot/${rowPattern}`, `usual drop in ${rowPattern} rows`)

  const forStand = (wanted: WorkingTerm, note?: string): WorkingLine =>
    line({
      id: 'drop',
      label: 'Seeds a foot of row',
      value: seedsPerFoot,
      unit: 'seeds/ft',
      rule: 'drop for a stand',
      terms: [wanted, germination, fieldEmergence, falls, usualDrop],
      note,
    })
  const given = (own: WorkingTerm): WorkingLine =>
    line({
      id: 'drop',
      label: 'Seeds a foot of row',
      value: seedsPerFoot,
      unit: 'seeds/ft',
      rule: 'product',
      terms: [own],
      note: rowPattern === 'twin' ? 'Both drills of a twin row together: it counts as one row position.' : undefined,
    })
  const drops = {
    'the field': () => given(term(`the drop of ${field.name}`, seedsPerFoot, 'seeds/ft')),
    'the house': () => given(usualDrop),
    'the plan': () => given(term('rate that the plan chose', seedsPerFoot, 'seeds/ft')),
    'a wanted stand': () =>
      forStand(
        term(`stand wanted on ${field.name}`, field.drop?.kind === 'stand' ? field.drop.plantsPerFoot : 0, 'plants/ft'),
      ),
    'the early window': () =>
      forStand(
        term('stand that an early window asks for', context.hard.earlyStand, 'plants/ft'),
        'Raised for the early window.',
      ),
  }

  const emerged = emergenceAt(seedsPerFoot, variety.germination, emergence)
  const rowFeet = rowFeetPerAcre(rowSpacingIn)
  const seeds = seedsPerAcre(seedsPerFoot, rowSpacingIn)
  const pounds = poundsPerAcre(seedsPerFoot, rowSpacingIn, variety.seedsPerPound)
  const lines = [
    drops[by](),
    line({
      id: 'emergence',
      label: 'Seeds that make a plant',
      value: emerged,
      unit: 'share',
      rule: 'emergence',
      terms: [germination, fieldEmergence, falls, term('drop', seedsPerFoot, 'seeds/ft'), usualDrop],
    }),
    line({
      id: 'stand',
      label: 'Plants a foot of row',
      value: stand,
      unit: 'plants/ft',
      rule: 'product',
      terms: [term('drop', seedsPerFoot, 'seeds/ft'), term('seeds that make a plant', emerged, 'share')],
    }),
    line({
      id: 'row feet',
      label: 'Feet of row on an acre',
      value: rowFeet,
      unit: 'ft/acre',
      rule: 'over the last',
      terms: [
        term('square feet on an acre', SQUARE_FEET_PER_ACRE, 'ft²/acre'),
        term('inches in a foot', 12, 'inch/ft'),
        term(`rows of ${field.name}`, rowSpacingIn, 'inch'),
      ],
    }),
    line({
      id: 'seeds',
      label: 'Seeds an acre',
      value: seeds,
      unit: 'seeds/acre',
      rule: 'product',
      terms: [term('drop', seedsPerFoot, 'seeds/ft'), term('feet of row', rowFeet, 'ft/acre')],
    }),
    line({
      id: 'seed pounds',
      label: 'Pounds of seed an acre',
      value: pounds,
      unit: 'lb/acre',
      rule: 'over the last',
      terms: [
        term('seeds an acre', seeds, 'seeds/acre'),
        term(`seeds in a pound of ${variety.name}`, variety.seedsPerPound, 'seeds/lb'),
      ],
      note: 'Without the reserve, which is bought over all fields of a variety together.',
    }),
  ]
  return { lines, seedsPerFoot, stand, pounds }
}
