/** The window comes back where it was, or where it can be seen. */
import { expect, test } from 'vitest'
import { placeFrom, type Place } from '../../src-main/app/window-place.ts'

const main = { x: 0, y: 0, width: 1920, height: 1040 }
const right = { x: 1920, y: 0, width: 1280, height: 984 }
const kept: Place = { x: 100, y: 80, width: 1400, height: 900, isMaximized: false, isFullScreen: false, zoom: 0.5 }

test('where it was, as large and as enlarged', () => {
  expect(placeFrom(kept, [main])).toEqual(kept)
})

test('on the second monitor while that is there; in the middle of the first when it has gone', () => {
  const there = { ...kept, x: 2000, width: 1100 }
  expect(placeFrom(there, [main, right])).toEqual(there)
  expect(placeFrom(there, [main])).toEqual({
    width: 1100,
    height: 900,
    isMaximized: false,
    isFullScreen: false,
    zoom: 0.5,
  })
})

test.each([
  ['above it', { y: -200 }],
  ['below it', { y: 1039 }],
  ['all but a sliver beside it', { x: 1915 }],
])('a head that cannot be taken hold of, %s, brings it to the middle', (_where, moved) => {
  expect(placeFrom({ ...kept, ...moved }, [main])).not.toHaveProperty('x')
})

test('never larger than its monitor, nor smaller than its pages can be read', () => {
  expect(placeFrom({ ...kept, width: 3000, height: 2000 }, [main])).toMatchObject({ width: 1920, height: 1040 })
  expect(placeFrom({ ...kept, width: 10, height: 10 }, [main])).toMatchObject({ width: 900, height: 600 })
})

test('maximised and full screen come back; a wild zoom is bounded', () => {
  const place = { ...kept, isMaximized: true, isFullScreen: true, zoom: 99 }
  expect(placeFrom(place, [main])).toMatchObject({ isMaximized: true, isFullScreen: true, zoom: 5 })
})

test.each([null, 'words', {}, { ...kept, width: 'wide' }, { ...kept, zoom: Number.NaN }])(
  'what is no place is a first start: %j',
  (spoilt) => {
    const fresh = { width: 1366, height: 860, isMaximized: false, isFullScreen: false, zoom: 0 }
    expect(placeFrom(spoilt, [main])).toEqual(fresh)
  },
)
