/** How two seasons are held against one another: thing by thing, by title, without what bears on no plan. */

export type Thing = Record<string, unknown>

/** Columns that bear on no plan. */
const passedOver = new Set([
  'note',
  'boundary',
  'soil',
  'landlord',
  'farmNumber',
  'tract',
  'place',
  'position',
  'source',
  'sourceKind',
  'affects',
  'low',
  'high',
  'depositShare',
  'fromLabel',
  'isTreated',
  'sampledOn',
])

/** False for rows of the book that only judge tags and value loads. */
export function bearsOnPlan({ key }: { key: string }): boolean {
  return !/^(tag|load)\//.test(key)
}

/** Columns that differ and bear on a plan. */
export function columnsChanged(before: Thing, after: Thing): string[] {
  return [...new Set([...Object.keys(before), ...Object.keys(after)])].filter(
    (key) => !passedOver.has(key) && JSON.stringify(before[key]) !== JSON.stringify(after[key]),
  )
}

/** Two of one title (two machines of a kind, two lots without a number) are told apart by their place. */
export function byTitle(things: readonly Thing[], titleOf: (thing: Thing) => string): Map<string, Thing> {
  const found = new Map<string, Thing>()
  for (const thing of things) {
    const title = titleOf(thing)
    let key = title
    for (let n = 2; found.has(key); n += 1) key = `${title} (${n})`
    found.set(key, thing)
  }
  return found
}
