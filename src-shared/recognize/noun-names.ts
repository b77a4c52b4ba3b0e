/** What a table can hold, in words: apart from the table of words, so that a page need not load it. */
import type { Noun } from './nouns.ts'

export const nouns: Readonly<Record<Noun, string>> = {
  field: 'fields',
  history: 'crop histories',
  soil: 'soil samples',
  variety: 'varieties',
  quote: 'quotes',
  dealer: 'dealers',
  carried: 'carryover seed',
  load: 'loads',
  seen: 'scouting',
  cost: 'costs',
  contract: 'contracts',
  window: 'planting windows',
  week: 'weeks of the season',
  machine: 'machines',
  measure: 'spray programs and practices',
  threat: 'diseases and pests',
  rule: 'rules',
}
