/** Which calls bring a file, and how it is read before the call has its turn: no other call waits for a reader. */
import type { CallName, Input } from '../../src-shared/api.ts'
import { valueOf } from '../../src-shared/problem.ts'
import type { Engine } from './engine.ts'
import type { BoundaryFile } from './import/read-boundary-file.ts'
import type { Cells } from './import/read-cells.ts'
import { FileReader } from './import/file-reader.ts'

/** What a handler is given beside its input. */
export interface FileOfCall {
  'import.look': Cells
  'import.preview': Cells
  'import.apply': Cells
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

async function cells(engine: Engine, { file, page }: Pick<Input<'import.look'>, 'file' | 'page'>): Promise<Cells> {
  return valueOf(await readerOf(engine).read({ kind: 'cells', name: file.name, bytes: bytesOf(file), page }))
}

async function boundaries(engine: Engine, { file }: Pick<Input<'boundary.look'>, 'file'>): Promise<BoundaryFile> {
  return valueOf(await readerOf(engine).read({ kind: 'boundaries', name: file.name, bytes: bytesOf(file) }))
}

export const fileReads: {
  [Name in keyof FileOfCall & CallName]: (engine: Engine, input: Input<Name>) => Promise<FileOfCall[Name]>
} = {
  'import.look': cells,
  'import.preview': cells,
  'import.apply': cells,
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
