/** Templates import without a question: as they are saved, and filled in, when their examples are set aside. */
import { expect, onTestFinished, test } from 'vitest'
import { writeXlsx } from '../../../src-main/engine/export/write-table.ts'
import { readSheets } from '../../../src-main/engine/import/read-sheets.ts'
import { valueOf } from '../../../src-shared/problem.ts'
import { templateSheets } from '../../../src-shared/recognize/templates.ts'
import { startTestEngine } from '../../support/engine.ts'
import { lookAt } from '../../support/import-file.ts'

async function newFarm() {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.start', { name: 'New', season: 2027 })
  return host
}

test('all templates in one workbook come in as they are, every column and every cell', async () => {
  const host = await newFarm()
  const { name, base64 } = await host.must('import.template', { sheet: null })
  const { seen, take } = await lookAt(host, undefined, { name, base64 })
  expect(seen.tables.map(({ sheet }) => sheet)).toEqual(templateSheets)
  for (const { questions, columns, leftCells, counts, file } of seen.tables) {
    expect(questions, file).toEqual([])
    expect(columns.filter(({ id }) => id === null)).toEqual([])
    expect([leftCells, counts.refused]).toEqual([0, 0])
    expect(counts.added).toBeGreaterThan(0)
  }
  expect(await take()).toMatchObject({ isDone: true })
  expect(await host.must('quote.list', {})).toMatchObject([
    { packPriceCents: 4850, breaks: [{ fromPacks: 400, packPriceCents: 4725 }] },
    { orderBy: '2027-01-31', availablePacks: 1400 },
  ])
  expect((await host.must('variety.list', {}))[0]).toMatchObject({
    germination: 0.87,
    seedsPerPound: 690,
    ratings: { 'early leaf spot': expect.any(Number) },
  })
})

test.each(templateSheets)('the template of a %s, filled in: its examples are set aside', async (sheet) => {
  const host = await newFarm()
  const { base64 } = await host.must('import.template', { sheet })
  const { grid } = valueOf(await readSheets('t.xlsx', Buffer.from(base64, 'base64'))).sheets[0]!
  const [headings = [], first = []] = grid.rows
  const own = ['My own', ...first.slice(1)]
  const filled = await writeXlsx(
    'Sheet1',
    headings.map(String),
    [...grid.rows.slice(1), own].map((row) => row.map((cell) => (typeof cell === 'boolean' ? null : cell))),
  )
  const { table } = await lookAt(host, undefined, { name: 'mine.xlsx', base64: filled.toString('base64') })
  expect(table.sheet).toBe(sheet)
  expect(table.questions).toEqual([])
  const examples = grid.rows.slice(1).filter((row) => String(row[0]).startsWith('Example')).length
  expect(table.aside.filter(({ why }) => why === 'example')).toHaveLength(examples)
  expect(table.rows).toHaveLength(3 - examples)
})
