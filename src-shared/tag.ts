/** What stands on the tag of a lot: every item that federal seed law asks of a label, and seeds a pound. */
import * as v from 'valibot'
import { between, nameText, note, wholeBetween } from './primitive.ts'

export const seedClasses = ['breeder', 'foundation', 'registered', 'certified', 'not certified'] as const

/** [share] as 0–1; said in per cent, as tags are written. */
const share = v.pipe(
  v.number('must be from 0 to 100 %'),
  v.finite('must be from 0 to 100 %'),
  v.minValue(0, 'must be from 0 to 100 %'),
  v.maxValue(1, 'must be from 0 to 100 %'),
)
/** A share that is never below 1 % but as none at all: 0.85 is 85 % typed as a share. */
export const testedShare = v.pipe(
  share,
  v.check((value) => value === 0 || value >= 0.01, 'must be typed in per cent: 85 for 85 %'),
)

/** Month and year of a test, as 2027-01. */
const testMonth = v.pipe(
  v.string('must be a month such as 2027-01'),
  v.regex(/^(19|20|21)\d{2}-(0[1-9]|1[0-2])$/, 'must be a month such as 2027-01'),
)

/** [seeds/lb] */
export const seedCount = between(200, 2000)

/** What a tag does not say is null. */
export const tagSchema = v.strictObject({
  /** Kind of seed, as the tag names it. */
  kind: nameText,
  variety: v.nullable(nameText),
  lotNumber: v.nullable(nameText),
  origin: v.nullable(nameText),
  seedClass: v.nullable(v.picklist(seedClasses, 'must be a class of seed')),
  pureSeed: v.nullable(testedShare),
  otherCrop: v.nullable(share),
  inert: v.nullable(share),
  weedSeed: v.nullable(share),
  noxiousKinds: v.nullable(note),
  /** [seeds/lb] as labelled; 0 where the tag says none. */
  noxiousPerPound: v.nullable(between(0, 100_000)),
  /** Noxious seeds found in a sample of one's own, and its weight [lb]. */
  noxiousFound: v.nullable(wholeBetween(0, 100_000)),
  noxiousSamplePounds: v.nullable(between(0.01, 1000)),
  germination: v.nullable(testedShare),
  hardSeed: v.nullable(share),
  testedIn: v.nullable(testMonth),
  /** Sealed against moisture: a longer limit holds. */
  isHermetic: v.boolean(),
  isTreated: v.boolean(),
  /** Substances, as the tag names them. */
  treatment: v.nullable(note),
  caution: v.nullable(note),
  /** Name and address, or the code that stands for them. */
  shipper: v.nullable(note),
  seedsPerPound: v.nullable(seedCount),
  /** [lb] of one pack, as labelled. */
  netPounds: v.nullable(between(0, 10_000_000)),
})

export type Tag = v.InferOutput<typeof tagSchema>

/** A tag of which nothing has been copied yet. */
export function emptyTag(of: { variety: string; lotNumber: string; isTreated: boolean }): Tag {
  return {
    kind: 'Peanut',
    variety: of.variety,
    lotNumber: of.lotNumber,
    origin: null,
    seedClass: null,
    pureSeed: null,
    otherCrop: null,
    inert: null,
    weedSeed: null,
    noxiousKinds: null,
    noxiousPerPound: null,
    noxiousFound: null,
    noxiousSamplePounds: null,
    germination: null,
    hardSeed: null,
    testedIn: null,
    isHermetic: false,
    isTreated: of.isTreated,
    treatment: null,
    caution: null,
    shipper: null,
    seedsPerPound: null,
    netPounds: null,
  }
}

/** A picture of a tag, or its paper as a PDF. */
export type PhotoType = 'image/jpeg' | 'image/png' | 'application/pdf'

export interface TagPhoto {
  id: number
  fileName: string
  mediaType: PhotoType
  /** [byte] */
  size: number
  sha256: string
}

/** What bytes are by how they begin; null where they are none of these. */
export function photoTypeOf(bytes: Uint8Array): PhotoType | null {
  const begins = (...magic: number[]) => magic.every((byte, at) => bytes[at] === byte)
  if (begins(0xff, 0xd8, 0xff)) return 'image/jpeg'
  if (begins(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png'
  if (begins(0x25, 0x50, 0x44, 0x46, 0x2d)) return 'application/pdf'
  return null
}

/** What a file's name says that it is; null where it says none of these. */
export function photoTypeByName(fileName: string): PhotoType | null {
  if (/\.jpe?g$/i.test(fileName)) return 'image/jpeg'
  if (/\.png$/i.test(fileName)) return 'image/png'
  return /\.pdf$/i.test(fileName) ? 'application/pdf' : null
}
