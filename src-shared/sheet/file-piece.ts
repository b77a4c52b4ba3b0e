/** A farm's file in pieces between window and engine: how large one is, and where the next begins. */
import * as v from 'valibot'

/** [byte] What one call carries at most. As base64 it is far below the 64 MB that the engine takes at once. */
export const mostPieceBytes = 8 * 1024 * 1024

/** [character] */
const mostPieceText = 4 * Math.ceil(mostPieceBytes / 3)

/** Where in a file that is under way: `at` [byte] from its beginning. */
export const filePlace = v.strictObject({
  id: v.pipe(v.string(), v.regex(/^[0-9a-f]{32}$/, 'must be the name of a file under way')),
  at: v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
})
export type FilePlace = v.InferOutput<typeof filePlace>

/** The bytes of one piece. */
export const pieceText = v.pipe(
  v.string(),
  v.maxLength(mostPieceText, 'must not be larger than 8 MB'),
  v.regex(/^[A-Za-z0-9+/]*={0,2}$/, 'must be base64'),
)
