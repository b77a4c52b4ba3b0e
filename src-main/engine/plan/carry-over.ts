/** Takes a solution from one model of a problem to another that has other options in it. */
import type { Build } from './build.ts'

/** A solution of the smaller model in the columns of the full one: options by what they are, the rest in order. */
export function carryOver(small: Build, full: Build, columns: Float64Array): Float64Array {
  const start = new Float64Array(full.model.columns)
  const at = (column: number) => columns[column] as number
  const place = new Map(full.options.map((each) => [each.option, each]))
  for (const each of small.options) {
    const there = place.get(each.option)
    if (there === undefined) continue
    start[there.share] = at(each.share)
  }
  for (const [chosen, members] of Map.groupBy(full.options, (each) => each.chosen)) {
    if (chosen === null || members.some(({ share }) => share === chosen)) continue
    start[chosen] = members.some(({ share }) => (start[share] as number) > 1e-9) ? 1 : 0
  }
  const lines = new Map(full.queue.map((line) => [line.key, line]))
  for (const line of small.queue) {
    const there = lines.get(line.key)
    line.weeks.forEach(({ column }, index) => {
      const same = there?.weeks[index]
      if (same !== undefined) start[same.column] = at(column)
    })
  }
  const others = otherColumns(full)
  otherColumns(small).forEach((column, index) => {
    start[others[index] as number] = at(column)
  })
  return start
}

/** Columns that belong to no option and no line of the queue: the same in number and order in every model of one problem. */
export function otherColumns(build: Build): number[] {
  const own = new Set([
    ...build.options.flatMap(({ share, chosen }) => [share, chosen]),
    ...build.queue.flatMap(({ weeks }) => weeks.map(({ column }) => column)),
    ...build.visits,
  ])
  return Array.from({ length: build.model.columns }, (_, column) => column).filter((column) => !own.has(column))
}
