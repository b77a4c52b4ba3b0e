/** What an entry of money comes to: as it stands, or so much for each acre. */
import type { CostRow } from '../cost.ts'

/** @param acres [acre] planted: of its field, or of the whole farm where it names none @returns whole cents */
export function entryCents({ cents, perAcre }: Pick<CostRow, 'cents' | 'perAcre'>, acres: number): number {
  return perAcre ? Math.round(cents * acres) : cents
}
