/** Reads one of the published tables beside this file. */
import { parse } from 'csv-parse/sync'
import { readFileSync } from 'node:fs'

export function publishedTable(name: string): Record<string, string>[] {
  return parse(readFileSync(new URL(`./tables/${name}`, import.meta.url), 'utf8'), { columns: true, bom: true })
}
