/** Which calls bring a file, and how it is read before the call has its turn: no other call waits for a reader. */
import type { CallName, Input } from '../../src-shared/api.ts'
import { ProblemError, valueOf, type Problem } from '../../src-shared/problem.ts'
import type { Engine } from './engine.ts'
import type { BoundaryFile } from './import/read-boundary-file.ts'
import { FileReader } from './import/file-reader.ts'
import type { SheetsRead } from './import/read-sheets.ts'

/** Files of tables: those that were read, and why others were not. */
export interface FilesRead {
  files: SheetsRead[]
  problems: Problem[]
}

/** What a handler is given beside its input. */
export interface FileOfCall {
  'import.look': FilesRead
  'import.apply': FilesRead
  'boundary.look': BoundaryFile
  'boundary.apply': BoundaryFile
}

const readers = new WeakMap<Engine, FileReader>()

function readerOf(engine: Engine): FileReader {
  let reader = readers.get(engine)
  if (!reader) readers.set(engine, (reader = new FileReader()))
  return reader
}

const bytesOf = (file: { base64: string }) => Buffer.from(file.base64, 'base64')

/** One that cannot be read holds none of the others up. */
async function tables(engine: Engine, { files }: Pick<Input<'import.look'>, 'files'>): Promise<FilesRead> {
  const out: FilesRead = { files: [], problems: [] }
  const names = new Set<string>()
  for (const file of files) {
    const read = await readerOf(engine).read({ kind: 'sheets', name: file.name, bytes: bytesOf(file) })
    if (!read.ok) out.problems.push(...read.problems)
    else {
      // Two files of one name are two files.
      let name = file.name
      for (let count = 2; names.has(name); count += 1) name = `${file.name} (${count})`
      names.add(name)
      out.files.push({ ...read.value, file: name })
    }
  }
  if (out.files.length === 0) throw new ProblemError(out.problems)
  return out
}

async function boundaries(engine: Engine, { file }: Pick<Input<'boundary.look'>, 'file'>): Promise<BoundaryFile> {
  return valueOf(await readerOf(engine).read({ kind: 'boundaries', name: file.name, bytes: bytesOf(file) }))
}

export const fileReads: {
  [Name in keyof FileOfCall & CallName]: (engine: Engine, input: Input<Name>) => Promise<FileOfCall[Name]>
} = {
  'import.look': tables,
  'import.apply': tables,
  'boundary.look': boundaries,
  'boundary.apply': boundaries,
}

/** Ends the reading at work; the call that asked for it is refused and nothing is changed. */
export function stopReading(engine: Engine): null {
  readers.get(engine)?.stop()
  return null
}

/** With the engine: its thread goes too. */
export async function closeReader(engine: Engine): Promise<void> {
  await readers.get(engine)?.close()
}
