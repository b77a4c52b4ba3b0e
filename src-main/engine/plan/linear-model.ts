/**
 * A mixed-integer model as plain arrays, built column by column and row by row. No user's word ever goes to the
 * solver: columns and rows are numbers here, and whoever built them keeps the table of what they mean.
 */

/** A slack column and the size by which it was priced. */
export interface Slack {
  column: number
  size: number
}

/** The most a rule may give way by, in sizes of its own limit. */
const MOST_SLACK = 1000

/** How near a limit must be to a whole number to be taken for it. */
const WHOLE = 1e-9

/** A row's name, if it has one, and by what it was scaled. */
export interface RowName {
  key: string | null
  scale: number
}

export type Term = readonly [column: number, coefficient: number]

export interface ModelArrays {
  columns: number
  rows: number
  cost: Float64Array
  lower: Float64Array
  upper: Float64Array
  /** 1 where the column takes whole numbers only. */
  integer: Int32Array
  rowLower: Float64Array
  rowUpper: Float64Array
  /** Row-wise sparse matrix. */
  starts: Int32Array
  indices: Int32Array
  values: Float64Array
}

export class LinearModel {
  private slacks: Slack[] | null = null
  private prefix: string | null = null
  private rowsInPrefix = 0
  private readonly rows: RowName[] = []
  private readonly cost: number[] = []
  private readonly lower: number[] = []
  private readonly upper: number[] = []
  private readonly integer: number[] = []
  private readonly rowLower: number[] = []
  private readonly rowUpper: number[] = []
  private readonly starts: number[] = [0]
  private readonly indices: number[] = []
  private readonly values: number[] = []

  get columns(): number {
    return this.cost.length
  }

  /**
   * A column from `lower` to `upper`; returns its number. Whole numbers get whole limits: with a fractional upper one and
   * without presolve the solver was seen to call a plan optimal that cost twice as much as another.
   */
  column(cost: number, lower: number, upper: number, isInteger = false): number {
    this.cost.push(cost)
    this.lower.push(isInteger ? Math.ceil(lower - WHOLE) : lower)
    this.upper.push(isInteger ? Math.floor(upper + WHOLE) : upper)
    this.integer.push(isInteger ? 1 : 0)
    return this.cost.length - 1
  }

  /** A yes-or-no column. */
  choice(cost = 0): number {
    return this.column(cost, 0, 1, true)
  }

  addCost(column: number, cost: number): void {
    this.cost[column] = (this.cost[column] as number) + cost
  }

  /** Rows added from here on are named after this; null leaves them without a name. */
  nameRows(prefix: string | null): void {
    this.prefix = prefix
    this.rowsInPrefix = 0
  }

  /** What each row is, so that the same row can be found in a model with other columns. */
  rowNames(): readonly RowName[] {
    return this.rows
  }

  /**
   * While set, what `limit` and `forbid` add may be broken at a cost: a slack column for each, priced by the size of
   * the limit, is added and noted. Used to find which rules clash and by how much.
   */
  soften(onto: Slack[] | null): void {
    this.slacks = onto
  }

  /** A rule's own limit: lower ≤ Σ coefficient × column ≤ upper. */
  limit(lower: number, upper: number, terms: readonly Term[]): void {
    if (this.slacks === null) return this.row(lower, upper, terms)
    const size = Math.max(1, ...[lower, upper].filter(Number.isFinite).map(Math.abs))
    for (const [bound, sign] of [
      [lower, 1],
      [upper, -1],
    ] as const) {
      if (!Number.isFinite(bound)) continue
      // Never without an upper limit: the solver was seen to call a worse plan the best where a column had none.
      const column = this.column(1 / size, 0, MOST_SLACK * size)
      this.slacks.push({ column, size })
      this.row(sign === 1 ? bound : -Infinity, sign === 1 ? Infinity : bound, [...terms, [column, sign]])
    }
  }

  /** A rule that rules a column out. */
  forbid(column: number): void {
    if (this.slacks === null) this.upper[column] = Math.min(this.upper[column] as number, 0)
    else this.limit(-Infinity, 0, [[column, 1]])
  }

  isInteger(column: number): boolean {
    return this.integer[column] === 1
  }

  /** Holds a column to one value; whole numbers are rounded to theirs. */
  fix(column: number, value: number): void {
    const held = this.integer[column] === 1 ? Math.round(value) : Math.max(0, value)
    this.lower[column] = held
    this.upper[column] = held
  }

  /** Lets a slack column go so far, at no cost. */
  loosen(column: number, by: number): void {
    this.upper[column] = by
    this.cost[column] = 0
  }

  /** Holds the whole cost to at most this. */
  limitCost(most: number): void {
    this.row(
      -Infinity,
      most,
      this.cost.map((cost, column): Term => [column, cost]),
    )
  }

  /** Drops every cost there is so far: what is added next is all that counts. */
  forgetCosts(): void {
    this.cost.fill(0)
  }

  /**
   * lower ≤ Σ coefficient × column ≤ upper. Coefficients of one column are added up. The row is scaled by a
   * power of two to a largest coefficient near 1: exact, and kinder to the solver's tolerances.
   */
  row(lower: number, upper: number, terms: readonly Term[], key?: string): void {
    const sums = new Map<number, number>()
    for (const [column, coefficient] of terms) sums.set(column, (sums.get(column) ?? 0) + coefficient)
    let largest = 0
    for (const value of sums.values()) largest = Math.max(largest, Math.abs(value))
    const scale = largest > 0 ? 2 ** -Math.round(Math.log2(largest)) : 1
    for (const [column, value] of sums) {
      if (value === 0) continue
      this.indices.push(column)
      this.values.push(value * scale)
    }
    this.starts.push(this.indices.length)
    this.rows.push({ key: key ?? (this.prefix === null ? null : `${this.prefix}#${this.rowsInPrefix++}`), scale })
    this.rowLower.push(lower * scale)
    this.rowUpper.push(upper * scale)
  }

  arrays(): ModelArrays {
    return {
      columns: this.cost.length,
      rows: this.rowLower.length,
      cost: Float64Array.from(this.cost),
      lower: Float64Array.from(this.lower),
      upper: Float64Array.from(this.upper),
      integer: Int32Array.from(this.integer),
      rowLower: Float64Array.from(this.rowLower),
      rowUpper: Float64Array.from(this.rowUpper),
      starts: Int32Array.from(this.starts),
      indices: Int32Array.from(this.indices),
      values: Float64Array.from(this.values),
    }
  }
}
