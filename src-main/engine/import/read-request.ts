/** What a reader of strangers' files is asked, and how it is answered. Plain data: it goes to another thread and back. */
import type { Result } from '../../../src-shared/problem.ts'
import { readBoundaryFile, type BoundaryFile } from './read-boundary-file.ts'
import { readCells, type Cells } from './read-cells.ts'

export type ReadRequest =
  | { kind: 'cells'; name: string; bytes: Uint8Array; page?: string | undefined }
  | { kind: 'boundaries'; name: string; bytes: Uint8Array }

export interface ReadAnswers {
  cells: Cells
  boundaries: BoundaryFile
}

/** Reads one file as it is asked. */
export function readRequested(request: ReadRequest): Promise<Result<Cells | BoundaryFile>> {
  const bytes = Buffer.from(request.bytes.buffer, request.bytes.byteOffset, request.bytes.byteLength)
  return request.kind === 'cells' ? readCells(request.name, bytes, request.page) : readBoundaryFile(request.name, bytes)
}
