/** Templates as workbooks: one sheet a table, with names of the open farm in them where it has some. */
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { templateOf, templateSheets, type Template } from '../../src-shared/recognize/templates.ts'
import type { SheetName } from '../../src-shared/sheet/sheet.ts'
import { writeWorkbook } from './export/write-table.ts'
import { writtenFile } from './export/written-file.ts'
import type { OpenFarm } from './farm-file.ts'

/** @param sheet null: all of them in one workbook; one without a template: that of fields */
export async function importTemplate(
  { connection, seasonId }: OpenFarm,
  sheet: SheetName | null,
): Promise<WrittenFile> {
  const names = (sql: string) => connection.prepare(sql).pluck().all(seasonId) as string[]
  const threats = names('SELECT name FROM threat WHERE seasonId = ? ORDER BY id')
  const season = Number(connection.prepare('SELECT year FROM season WHERE id = ?').pluck().get(seasonId))
  const own = {
    '@dealer': names('SELECT name FROM dealer WHERE seasonId = ? ORDER BY name')[0] ?? 'Example Seed',
    '@variety': names('SELECT name FROM variety WHERE seasonId = ? ORDER BY name')[0] ?? 'Example A',
    '@field':
      names(
        'SELECT field.name FROM field JOIN field_season here ON here.fieldId = field.id WHERE here.seasonId = ? ORDER BY field.name',
      )[0] ?? 'Example Home 40',
  }
  const filled = (cell: string | number) =>
    typeof cell === 'string' && Object.hasOwn(own, cell) ? own[cell as keyof typeof own] : cell
  const wanted = sheet === null ? templateSheets : [sheet]
  const templates = wanted.map((each) => templateOf(each, threats, season)).filter((each) => each !== null)
  const shown: Template[] = templates.length > 0 ? templates : [templateOf('field', threats, season) as Template]
  const tables = shown.map(({ title, columns }) => ({
    title,
    headers: columns.map(([heading]) => heading),
    rows: [columns.map(([, first]) => filled(first)), columns.map(([, , second]) => filled(second))],
  }))
  return writtenFile(
    sheet === null ? 'Standwell templates' : `${tables[0]?.title ?? 'Fields'} template`,
    'xlsx',
    await writeWorkbook(tables),
  )
}
