/**
 * How one of several things is told from the others: a colour and a hatch. The hatch alone must do on a
 * black-and-white print. Colours are --v1 … --v10 in styles/tokens.css. Past ten, hatches come again in another size or
 * light on dark, each with another colour than before, so that no two of sixty coincide.
 */
export interface Hatch {
  /** Strokes in a tile of 8 × 8. */
  lines: string
  /** Dots in the tile, as x y radius. */
  dots: readonly (readonly [x: number, y: number, radius: number])[]
  width: number
}

export const hatches: readonly Hatch[] = [
  { lines: 'M-2,2 L2,-2 M0,8 L8,0 M6,10 L10,6', dots: [], width: 1.3 },
  {
    lines: '',
    dots: [
      [2, 2, 1.25],
      [6, 6, 1.25],
    ],
    width: 0,
  },
  { lines: 'M-2,6 L2,10 M0,0 L8,8 M6,-2 L10,2', dots: [], width: 1.3 },
  { lines: 'M0,2 H8 M0,6 H8', dots: [], width: 1 },
  { lines: 'M0,4 H8 M4,0 V8', dots: [], width: 0.9 },
  { lines: 'M2,0 V8 M6,0 V8', dots: [], width: 1 },
  { lines: 'M0,0 L8,8 M0,8 L8,0', dots: [], width: 0.8 },
  { lines: 'M0,2 H5 M4,6 H8 M0,6 H1', dots: [], width: 1.6 },
  { lines: 'M0,5 L2,3 L4,5 L6,3 L8,5', dots: [], width: 1.2 },
  { lines: '', dots: [[4, 4, 2.2]], width: 0 },
]

const colours = 10

/** How a hatch comes again: size of its tile, and light lines on dark ground. */
const variants = [
  { scale: 1, isInverted: false },
  { scale: 1, isInverted: true },
  { scale: 1.7, isInverted: false },
  { scale: 1.7, isInverted: true },
  { scale: 0.6, isInverted: false },
  { scale: 0.6, isInverted: true },
] as const

/** As many things as can be told apart; beyond that they start over. */
export const mostHatches = hatches.length * variants.length

export interface Look {
  hatch: Hatch
  scale: number
  isInverted: boolean
  colour: string
}

export function lookOf(index: number): Look {
  const at = index % mostHatches
  const round = Math.floor(at / hatches.length)
  const hatch = hatches[at % hatches.length] as Hatch
  return { hatch, ...(variants[round] as (typeof variants)[number]), colour: `var(--v${((at + round) % colours) + 1})` }
}

/** The colour: see Hatches.svelte. */
export function colourOf(index: number): string {
  return lookOf(index).colour
}

/** Fill for an SVG shape; Hatches.svelte must be on the page. */
export function hatchFill(index: number): string {
  return `url(#hatch-${index % mostHatches})`
}
