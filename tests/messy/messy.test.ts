/**
 * Spreadsheets as other people keep them, each another kind: what each table is taken for, column by column and cell by cell, what is
 * set aside and what is asked. What is expected stands beside each file; after a change on purpose
 *   STANDWELL_WRITE_MESSY=1 npx vitest run --config tests/vitest.config.ts tests/messy
 * writes it anew: read the difference before it is committed. All farms, dealers and varieties are invented.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { recognizeFile } from '../support/recognized.ts'
import { workbooks } from './workbooks.ts'

const folder = join(import.meta.dirname, 'files')
const names = [...readdirSync(folder).filter((name) => !name.endsWith('.json')), ...Object.keys(workbooks)].toSorted()

async function taken(name: string) {
  const bytes = workbooks[name] ? await workbooks[name]() : readFileSync(join(folder, name))
  const tables = await recognizeFile(name, bytes)
  return tables.map(({ table, reading }) => ({
    noun: table.match.noun,
    headerRows: table.found.headerRows,
    columns: Object.fromEntries(
      table.match.columns.map(({ heading, id, isAsked }, at) => [
        `${at} ${heading}`,
        `${id}${isAsked ? ', asked' : ''}`,
      ]),
    ),
    columnSays: reading?.columnSays ?? {},
    aside: table.found.aside.map(({ row, why }) => `${row} ${why}`),
    asks: reading?.questions.map(({ key, suggestion, cells }) => `${key} (${cells}): ${suggestion}`) ?? [],
    rows:
      reading?.rows.map(({ row, records, problems }) => ({
        row,
        records,
        ...(problems.length > 0 ? { problems: problems.map(({ at, what }) => `${at}: ${what}`) } : {}),
      })) ?? [],
  }))
}

test('there are at least thirty, each of another kind', () => {
  expect(names.length).toBeGreaterThanOrEqual(30)
})

test.each(names)('%s', async (name) => {
  const file = join(folder, `${name}.json`)
  const now = await taken(name)
  if (process.env.STANDWELL_WRITE_MESSY === '1') writeFileSync(file, `${JSON.stringify(now, null, 2)}\n`)
  expect(existsSync(file)).toBe(true)
  expect(JSON.parse(JSON.stringify(now))).toEqual(JSON.parse(readFileSync(file, 'utf8')))
})
