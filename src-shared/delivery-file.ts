/** A load as a file has it, for the command line: dealer, varieties and quotes by their names. */
import * as v from 'valibot'
import { deliverySchema } from './delivery.ts'
import { lotSchema } from './lot.ts'
import { nameText } from './primitive.ts'
import { tagSchema } from './tag.ts'

export const springVerbs = ['receive', 'rates', 'trace'] as const
export type SpringVerb = (typeof springVerbs)[number]

export function isSpringVerb(verb: string | undefined): verb is SpringVerb {
  return springVerbs.some((each) => each === verb)
}

const { varietyId: _v, deliveryId: _d, carriedSeedId: _c, orderLineId: _o, ...plainLot } = lotSchema.entries
const { dealerId: _i, ...plainDelivery } = deliverySchema.entries

export const deliveryFileSchema = v.strictObject({
  ...plainDelivery,
  ticket: v.optional(plainDelivery.ticket, null),
  scalePounds: v.optional(plainDelivery.scalePounds, null),
  note: v.optional(plainDelivery.note, null),
  dealer: nameText,
  lots: v.array(
    v.strictObject({
      ...plainLot,
      state: v.optional(plainLot.state, 'received'),
      packs: v.optional(plainLot.packs, null),
      packPounds: v.optional(plainLot.packPounds, null),
      pounds: v.optional(plainLot.pounds, 0),
      returnedPounds: v.optional(plainLot.returnedPounds, 0),
      leftPounds: v.optional(plainLot.leftPounds, null),
      seedsPerPound: v.optional(plainLot.seedsPerPound, null),
      note: v.optional(plainLot.note, null),
      variety: nameText,
      /** Title of the quote that it was ordered from; absent: the dealer's line of that variety, if there is but one. */
      quote: v.optional(v.pipe(v.string(), v.maxLength(250))),
      /** Says that this is a further part of a lot of the same number. */
      isSecondPart: v.optional(v.boolean(), false),
      tag: v.optional(tagSchema),
    }),
  ),
})
export type DeliveryFile = v.InferOutput<typeof deliveryFileSchema>
