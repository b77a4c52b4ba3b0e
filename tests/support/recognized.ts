/** A file’s bytes recognized and read as the engine does it, without a farm: for tests of what is recognized. */
import { readSheets } from '../../src-main/engine/import/read-sheets.ts'
import { valueOf } from '../../src-shared/problem.ts'
import { readTable, recognize, type Recognized, type TableChoice } from '../../src-shared/recognize/recognize.ts'
import type { TableReading } from '../../src-shared/recognize/context.ts'
import type { Answers } from '../../src-shared/recognize/question.ts'

export const threats = ['early leaf spot', 'late leaf spot', 'southern stem rot', 'spotted wilt', 'root-knot nematode']

export interface RecognizeOptions {
  season?: number
  answers?: Answers
  choices?: Record<string, TableChoice>
  names?: { fields?: string[]; varieties?: string[]; dealers?: string[] }
}

export async function recognizeFile(
  name: string,
  content: string | Buffer,
  { season = 2027, answers = {}, choices = {}, names = {} }: RecognizeOptions = {},
): Promise<{ table: Recognized; reading: TableReading | null }[]> {
  const read = valueOf(await readSheets(name, Buffer.isBuffer(content) ? content : Buffer.from(content)))
  const sheets = read.sheets.map((sheet) => ({ file: name, isForeign: read.isForeign, ...sheet }))
  const dealers = names.dealers ?? []
  return recognize(sheets, { season, threats, dealers, choices, answers }).map((table) => ({
    table,
    reading: readTable(table, {
      season,
      threats,
      names: { fields: names.fields ?? [], varieties: names.varieties ?? [], dealers },
      answers,
    }),
  }))
}
