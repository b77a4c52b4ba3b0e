/** A column of figures rounded so that it adds up to the rounded sum below it. */

/**
 * @param values any, also below 0
 * @returns whole numbers, each within 1 of its value, that add up to the rounded sum of the values
 */
export function roundTogether(values: readonly number[]): number[] {
  const sum = Math.round(values.reduce((all, value) => all + value, 0))
  const whole = values.map(Math.floor)
  const over = sum - whole.reduce((all, value) => all + value, 0)
  const byRest = values
    .map((value, at) => ({ at, rest: value - Math.floor(value) }))
    .sort((a, b) => b.rest - a.rest || a.at - b.at)
  for (const { at } of byRest.slice(0, over)) whole[at] = (whole[at] as number) + 1
  return whole
}
