/**
 * Planned seed as ISO 11783-10 task data: one planned task for each block, with its setpoint count per area (DDI 000B).
 * A lot number has no attribute in that standard and is not put into one: it stands in the other files and on paper.
 */
import { SQUARE_METERS_PER_ACRE } from '../../../src-shared/agronomy/seed.ts'
import type { Boundary } from '../../../src-shared/field.ts'
import type { RateBlock } from '../../../src-shared/rates.ts'
import { writeXml, type Element } from './write-xml.ts'

/**
 * A count per area as the standard writes it: thousandths of a seed a square metre.
 * @param seedsPerAcre [seeds/acre]
 * @returns 87,120 → 21528
 */
export function countPerArea(seedsPerAcre: number): number {
  return Math.round((seedsPerAcre / SQUARE_METERS_PER_ACRE) * 1000)
}

export interface TaskSeed {
  farm: string
  season: number
  blocks: readonly RateBlock[]
  fields: readonly { name: string; acres: number; boundary?: Boundary | undefined }[]
}

/** What designators take. */
const designator = (text: string) => [...text].slice(0, 32).join('')

export function taskData({ farm, season, blocks, fields }: TaskSeed): string {
  const varieties = [...new Set(blocks.map(({ variety }) => variety))]
  const idOf = (kind: string, at: number) => `${kind}${at + 1}`
  const own = fields.filter(({ name }) => blocks.some((block) => block.field === name))
  const children: Element[] = [
    { name: 'CTR', attributes: { A: 'CTR1', B: designator(farm) } },
    { name: 'FRM', attributes: { A: 'FRM1', B: designator(farm), I: 'CTR1' } },
    {
      name: 'CTP',
      attributes: { A: 'CTP1', B: 'Peanut' },
      children: varieties.map((variety, at) => ({
        name: 'CVT',
        attributes: { A: idOf('CVT', at), B: designator(variety) },
      })),
    },
    ...varieties.map((variety, at): Element => ({
      name: 'PDT',
      attributes: { A: idOf('PDT', at), B: designator(`${variety} seed`) },
    })),
    ...own.map(({ name, acres, boundary }, at): Element => ({
      name: 'PFD',
      attributes: {
        A: idOf('PFD', at),
        C: designator(name),
        D: Math.round(acres * SQUARE_METERS_PER_ACRE),
        E: 'CTR1',
        F: 'FRM1',
      },
      children: boundary === undefined ? [] : polygons(boundary),
    })),
    ...blocks.map((block, at): Element => ({
      name: 'TSK',
      attributes: {
        A: idOf('TSK', at),
        B: designator(`${season} ${block.field} ${block.variety}`),
        C: 'CTR1',
        D: 'FRM1',
        E: idOf(
          'PFD',
          own.findIndex(({ name }) => name === block.field),
        ),
        G: 1,
        H: 1,
      },
      children: [
        {
          name: 'TZN',
          attributes: { A: 1, B: designator(block.variety) },
          children: [
            {
              name: 'PDV',
              attributes: {
                A: '000B',
                B: countPerArea(block.set.seedsPerAcre),
                C: idOf('PDT', varieties.indexOf(block.variety)),
              },
            },
          ],
        },
      ],
    })),
  ]
  return writeXml({
    name: 'ISO11783_TaskData',
    attributes: {
      VersionMajor: 4,
      VersionMinor: 3,
      ManagementSoftwareManufacturer: 'Standwell',
      ManagementSoftwareVersion: '1',
      DataTransferOrigin: 1,
    },
    children,
  })
}

/** Field boundaries: one polygon for each part, outer ring and holes; points as north and east. */
function polygons(boundary: Boundary): Element[] {
  const parts = boundary.type === 'Polygon' ? [boundary.coordinates] : boundary.coordinates
  return parts.map((rings): Element => ({
    name: 'PLN',
    attributes: { A: 1 },
    children: rings.map((ring, at): Element => ({
      name: 'LSG',
      attributes: { A: at === 0 ? 1 : 2 },
      children: ring.map(([east = 0, north = 0]): Element => ({
        name: 'PNT',
        attributes: { A: 2, C: north.toFixed(9), D: east.toFixed(9) },
      })),
    })),
  }))
}
