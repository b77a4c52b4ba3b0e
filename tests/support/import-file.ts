/** A file of tables imported into an open farm: looked at, and taken when asked. */
import type { GivenInput } from '../../src-shared/api.ts'
import type { ImportSeen, TableLook } from '../../src-shared/sheet/bring-in.ts'
import type { SheetName } from '../../src-shared/sheet/sheet.ts'
import type { TestEngine } from './engine.ts'

export interface GivenFile {
  name: string
  base64: string
}

export const csvFile = (text: string | Buffer, name = 'file.csv'): GivenFile => ({
  name,
  base64: Buffer.from(text as string).toString('base64'),
})

export interface Looked {
  seen: ImportSeen
  /** The first. */
  table: TableLook
  columns: (string | null)[]
  asks: string[]
  take(): Promise<{ counts: TableLook['counts']; isDone: boolean }>
}

type Options = Pick<GivenInput<'import.look'>, 'choices' | 'answers'> & { onlyGood?: boolean; more?: GivenFile[] }

/** @param onto the sheet of the page that it is dropped on */
export async function lookAt(
  { must }: Pick<TestEngine, 'must'>,
  onto: SheetName | undefined,
  file: GivenFile,
  { choices = {}, answers = {}, onlyGood = false, more = [] }: Options = {},
): Promise<Looked> {
  const input = { files: [file, ...more], ...(onto === undefined ? {} : { onto }), choices, answers }
  const seen = await must('import.look', { ...input, withValues: true })
  const [table] = seen.tables
  if (!table) throw new Error(`${file.name} has no table`)
  return {
    seen,
    table,
    columns: table.columns.map(({ id }) => id),
    asks: table.questions.map(({ key }) => key),
    take: () => must('import.apply', { ...input, onlyGood }),
  }
}
