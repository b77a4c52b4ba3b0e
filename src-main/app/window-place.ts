/** Where the window was, and where it goes now that monitors may have come or gone. Pure; sizes in the system's pixels. */

export interface Area {
  x: number
  y: number
  width: number
  height: number
}

/** As it is kept between two starts. */
export interface Place extends Area {
  isMaximized: boolean
  isFullScreen: boolean
  /** Electron's: 0 is as it comes, each step 20 %. */
  zoom: number
}

export const least = { width: 900, height: 600 }
const usual = { width: 1366, height: 860 }
/** So much of the window's head must be on some monitor that it can be taken hold of. */
const hold = { width: 160, height: 40 }

/**
 * @param kept what was written down, or whatever is in its place
 * @param areas of the monitors, without the system's bars, the main one first
 * @returns a place without x and y where it is to be centred
 */
export function placeFrom(kept: unknown, areas: readonly Area[]): Partial<Place> & { width: number; height: number } {
  const [main] = areas
  const fresh = { ...fit(usual, main), isMaximized: false, isFullScreen: false, zoom: 0 }
  if (!isPlace(kept)) return fresh
  const { isMaximized, isFullScreen } = kept
  const zoom = Math.min(Math.max(kept.zoom, -5), 5)
  const on = areas.find((area) => shared(area, kept) >= hold.width && touchesHead(area, kept))
  if (on === undefined) return { ...fit(kept, main), isMaximized, isFullScreen, zoom }
  return { x: kept.x, y: kept.y, ...fit(kept, on), isMaximized, isFullScreen, zoom }
}

function fit({ width, height }: Pick<Area, 'width' | 'height'>, area: Area | undefined) {
  const within = (size: number, smallest: number, whole: number | undefined) =>
    Math.max(smallest, Math.min(Math.round(size), whole ?? size))
  return { width: within(width, least.width, area?.width), height: within(height, least.height, area?.height) }
}

/** Width of the window that lies on a monitor. */
const shared = (area: Area, { x, width }: Area) => Math.min(area.x + area.width, x + width) - Math.max(area.x, x)

const touchesHead = (area: Area, { y }: Area) =>
  y >= area.y - hold.height / 2 && y <= area.y + area.height - hold.height

function isPlace(kept: unknown): kept is Place {
  if (typeof kept !== 'object' || kept === null) return false
  const place = kept as Record<string, unknown>
  return (
    ['x', 'y', 'width', 'height', 'zoom'].every((key) => Number.isFinite(place[key])) &&
    typeof place.isMaximized === 'boolean' &&
    typeof place.isFullScreen === 'boolean'
  )
}
