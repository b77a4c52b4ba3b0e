/** What the database calls null, the nouns of src-shared leave out. */

export type WithoutNulls<Row> = {
  [Name in keyof Row as null extends Row[Name] ? never : Name]: Row[Name]
} & {
  [Name in keyof Row as null extends Row[Name] ? Name : never]?: NonNullable<Row[Name]>
}

/** The same row without its nulls. */
export function withoutNulls<Row extends object>(row: Row): WithoutNulls<Row> {
  const known: Record<string, unknown> = {}
  for (const [name, value] of Object.entries(row)) if (value !== null) known[name] = value
  return known as WithoutNulls<Row>
}

/** Sorts by code unit, so that the order is the same on every machine, whatever its language. */
export function byText<Thing>(textOf: (thing: Thing) => string): (a: Thing, b: Thing) => number {
  return (a, b) => {
    const [one, other] = [textOf(a), textOf(b)]
    return one < other ? -1 : one > other ? 1 : 0
  }
}
