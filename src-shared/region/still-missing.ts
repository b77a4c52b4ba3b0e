/** What a farm still lacks for a plan worth having, in the order of what matters, each with the page where it is entered. Pure. */
import type { Field } from '../field.ts'
import type { Variety } from '../variety.ts'

export interface Missing {
  /** A sentence. */
  what: string
  /** The page, as the address has it. */
  stage: 'fields' | 'varieties' | 'quotes' | 'rules'
  /** No plan at all without it; else the plan says less than it could. */
  isNeeded: boolean
}

export interface FarmSoFar {
  fields: readonly Pick<Field, 'name' | 'history' | 'pressure' | 'nematodesPer100cc'>[]
  varieties: readonly Pick<Variety, 'name' | 'ratings'>[]
  quotes: readonly { variety: string }[]
  machines: readonly { kind: string }[]
  measures: readonly unknown[]
  /** Names of its diseases and pests. */
  threats: readonly string[]
  /** Whether the price is the farm's own. */
  hasOwnPrice: boolean
}

const some = (count: number, one: string, many: string) =>
  `${count.toLocaleString('en-US')} ${count === 1 ? one : many}`

/** @returns empty where nothing is missing */
export function stillMissing(farm: FarmSoFar): Missing[] {
  const out: Missing[] = []
  const need = (stage: Missing['stage'], what: string) => out.push({ stage, what, isNeeded: true })
  const want = (stage: Missing['stage'], what: string) => out.push({ stage, what, isNeeded: false })
  const { fields, varieties, quotes, machines, measures, threats } = farm
  if (fields.length === 0) need('fields', 'Add your fields: name, acres, water and yield goal.')
  if (varieties.length === 0) need('varieties', 'Add the varieties you would plant.')
  if (quotes.length === 0) need('quotes', 'Add quotes: the plan buys from them.')
  const quoted = new Set(quotes.map(({ variety }) => variety.toLowerCase()))
  const unquoted = varieties.filter(({ name }) => !quoted.has(name.toLowerCase()))
  if (quotes.length > 0 && unquoted.length > 0)
    want(
      'quotes',
      `${some(unquoted.length, 'variety has', 'varieties have')} no quote, so no plan can use ${unquoted.length === 1 ? 'it' : 'them'}.`,
    )
  const noHistory = fields.filter(({ history }) => history.length === 0).length
  if (noHistory > 0)
    want(
      'fields',
      `${some(noHistory, 'field has', 'fields have')} no crop history: rotation moves yield more than any variety.`,
    )
  if (!farm.hasOwnPrice) want('rules', 'Enter the price of your peanuts: every loss is counted in it.')
  const unrated = varieties.filter(({ ratings }) => threats.some((threat) => ratings[threat] === undefined)).length
  if (unrated > 0) want('varieties', `${some(unrated, 'variety lacks', 'varieties lack')} disease ratings.`)
  const noPressure = fields.filter(
    ({ pressure, nematodesPer100cc }) => Object.keys(pressure).length === 0 && nematodesPer100cc === undefined,
  ).length
  if (noPressure > 0) want('fields', `${some(noPressure, 'field shows', 'fields show')} no disease history.`)
  if (measures.length === 0) want('rules', 'Add a spray program: without one every field is counted as unsprayed.')
  for (const kind of ['planter', 'digger', 'combine']) {
    if (!machines.some((machine) => machine.kind === kind)) want('rules', `Add a ${kind}: its hours limit the weeks.`)
  }
  return out
}
