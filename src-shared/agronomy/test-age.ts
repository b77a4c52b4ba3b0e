/**
 * How long after its germination test seed may still be shipped: 7 CFR 201.22, no more than 5 calendar months (24 for
 * seed sealed against moisture) between the last day of the month of the test and the shipment. Pure month arithmetic.
 */

/**
 * The last day on which seed may be shipped.
 * @param testedIn month of the test, as 2027-01
 * @param months [calendar month] 0–600 that may lie between; 5, or 24 sealed
 * @returns ISO day: 2026-09 and 5 → 2027-02-28
 */
export function lastShipDay(testedIn: string, months: number): string {
  const [year = 0, month = 1] = testedIn.split('-').map(Number)
  // Day 0 of the month after is the last of the month, whatever its length.
  return new Date(Date.UTC(year, month + months, 0)).toISOString().slice(0, 10)
}

/**
 * Whole calendar months begun since the month of the test.
 * @param day ISO day, not before the month of the test
 * @returns [month] 2027-01 and 2027-06-30 → 5; 2027-07-01 → 6
 */
export function monthsSince(testedIn: string, day: string): number {
  const [year = 0, month = 1] = testedIn.split('-').map(Number)
  const [dayYear = 0, dayMonth = 1] = day.split('-').map(Number)
  return (dayYear - year) * 12 + dayMonth - month
}
