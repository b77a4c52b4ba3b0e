/** The order in which people look for a name: “2” before “10”, great letters among small ones; the same on every machine. */
const collator = new Intl.Collator('en', { numeric: true })

/** Names that count as the same figure (“01” and “1”) go by code unit. */
export function compareNames(one: string, other: string): number {
  return collator.compare(one, other) || (one < other ? -1 : one > other ? 1 : 0)
}

/** For `sort`: by the names of things, the first that differs; a missing name as an empty one. */
export function byName<Thing>(...namesOf: ((thing: Thing) => string | null | undefined)[]) {
  return (one: Thing, other: Thing): number => {
    for (const nameOf of namesOf) {
      const order = compareNames(nameOf(one) ?? '', nameOf(other) ?? '')
      if (order !== 0) return order
    }
    return 0
  }
}

/** For `sort`: in the order of the sheet that rows came from; those that came from none after them, by name. */
export function byPosition<Thing>(...namesOf: ((thing: Thing) => string | null | undefined)[]) {
  const names = byName(...namesOf)
  const positionOf = (thing: Thing) => (thing as { position?: number | null }).position ?? Infinity
  return (one: Thing, other: Thing): number => {
    const [first, second] = [positionOf(one), positionOf(other)]
    return first === second ? names(one, other) : first - second
  }
}
