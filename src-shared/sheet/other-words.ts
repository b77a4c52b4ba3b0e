/** How lists of fields from elsewhere write what a field's row here names by one word. */

/** Under “Irrigated” they say yes or no. */
export const waterWords = {
  irrigated: ['irr', 'pivot', 'center pivot', 'drip', 'yes', 'y'],
  dryland: ['dry', 'rainfed', 'rain-fed', 'non-irrigated', 'not irrigated', 'no', 'n'],
}

export const patternWords = { single: ['single row', 'single rows'], twin: ['twin row', 'twin rows'] }

export const tillageWords = { conventional: ['conv'], strip: ['strip till', 'strip-till'] }
