/**
 * Reads J. E. Beasley's OR-Library files as plan problems: a job is a field of one acre, an agent a variety whose
 * supply in pounds is limited; a warehouse is a dealer with an order fee who alone sells one variety.
 */
import { readFileSync } from 'node:fs'

const folder = new URL('./orlib/', import.meta.url)

export interface PublishedOptimum {
  instance: string
  sense: 'min' | 'max'
  lower: number
  upper: number
}

export function publishedOptima(): PublishedOptimum[] {
  const lines = readFileSync(new URL('optima.csv', folder), 'utf8').trim().split('\n').slice(1)
  return lines.map((line) => {
    const [instance, sense, lower, upper] = line.split(',') as [string, 'min' | 'max', string, string]
    return { instance, sense, lower: Number(lower), upper: Number(upper) }
  })
}

function numbersOf(instance: string): number[] {
  const text = readFileSync(new URL(`${instance}.txt`, folder), 'utf8')
  return text.trim().split(/\s+/).map(Number)
}

/** The raw problem file, as a user would write it: defaults are left to the reader. */
export function problemOf({ instance, sense }: PublishedOptimum): unknown {
  return instance.startsWith('cap') ? warehouses(instance) : assignment(instance, sense)
}

/** m agents, n jobs; m rows of n costs, m rows of n resource uses, m capacities. */
function assignment(instance: string, sense: 'min' | 'max'): unknown {
  const numbers = numbersOf(instance)
  const [m, n] = numbers as [number, number]
  const cost = (agent: number, job: number) => numbers[2 + agent * n + job] as number
  const use = (agent: number, job: number) => numbers[2 + m * n + agent * n + job] as number
  const capacity = (agent: number) => numbers[2 + 2 * m * n + agent] as number
  const agents = Array.from({ length: m }, (_, agent) => agent)
  const jobs = Array.from({ length: n }, (_, job) => job)
  return {
    format: 'standwell-problem',
    version: 1,
    name: `OR-Library ${instance}`,
    fields: jobs.map((job) => ({ id: `job ${job}`, acres: 1 })),
    varieties: agents.map((agent) => ({ id: `agent ${agent}` })),
    options: agents.flatMap((agent) =>
      jobs.map((job) => ({
        field: `job ${job}`,
        variety: `agent ${agent}`,
        cashCents: sense === 'max' ? -cost(agent, job) : cost(agent, job),
        poundsPerAcre: use(agent, job),
      })),
    ),
    dealers: [{ id: 'store' }],
    quotes: agents.map((agent) => ({
      id: `stock of ${agent}`,
      dealer: 'store',
      variety: `agent ${agent}`,
      packPriceCents: 0,
      availablePacks: capacity(agent),
    })),
  }
}

/** m warehouses, n customers; m × capacity and fixed cost; then per customer its demand and m costs of all of it. */
function warehouses(instance: string): unknown {
  const numbers = numbersOf(instance)
  const [m, n] = numbers as [number, number]
  const stores = Array.from({ length: m }, (_, store) => store)
  const customers = Array.from({ length: n }, (_, customer) => customer)
  const at = (customer: number) => 2 + 2 * m + customer * (m + 1)
  return {
    format: 'standwell-problem',
    version: 1,
    name: `OR-Library ${instance}`,
    fields: customers.map((customer) => ({ id: `customer ${customer}`, acres: 1, split: {} })),
    varieties: stores.map((store) => ({ id: `goods of ${store}` })),
    options: stores.flatMap((store) =>
      customers.map((customer) => ({
        field: `customer ${customer}`,
        variety: `goods of ${store}`,
        cashCents: numbers[at(customer) + 1 + store],
        poundsPerAcre: numbers[at(customer)],
      })),
    ),
    dealers: stores.map((store) => ({ id: `warehouse ${store}`, orderFeeCents: numbers[3 + 2 * store] })),
    quotes: stores.map((store) => ({
      id: `stock of ${store}`,
      dealer: `warehouse ${store}`,
      variety: `goods of ${store}`,
      packPriceCents: 0,
      availablePacks: numbers[2 + 2 * store],
    })),
  }
}
