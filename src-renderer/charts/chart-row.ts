/** A row of a chart of rows: bars, dots or a mean on the common axis. */

export interface ChartBar {
  from: number
  to: number
  /** Index of the hatch. */
  fill: number
  /** Thin line over the bar: the ends of a range. */
  low?: number
  high?: number
}

export interface ChartRow {
  label: string
  bars?: ChartBar[]
  /** One mark each, as the fields behind a mean. */
  dots?: number[]
  /** A mean with the ends of its interval; without ends only the mark. */
  mean?: { value: number; low: number | null; high: number | null }
  /** Said at the end of the row. */
  text: string
  /** Where the next row begins: a thin line leads there. */
  leadsAt?: number
}
