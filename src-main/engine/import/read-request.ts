/** What a reader of strangers' files is asked, and how it is answered. Plain data: it goes to another thread and back. */
import type { Result } from '../../../src-shared/problem.ts'
import { readBoundaryFile, type BoundaryFile } from './read-boundary-file.ts'
import { readSheets, type SheetsRead } from './read-sheets.ts'

export type ReadRequest =
  { kind: 'sheets'; name: string; bytes: Uint8Array } | { kind: 'boundaries'; name: string; bytes: Uint8Array }

export interface ReadAnswers {
  sheets: SheetsRead
  boundaries: BoundaryFile
}

/** Reads one file as it is asked. */
export function readRequested(request: ReadRequest): Promise<Result<SheetsRead | BoundaryFile>> {
  const bytes = Buffer.from(request.bytes.buffer, request.bytes.byteOffset, request.bytes.byteLength)
  return request.kind === 'sheets' ? readSheets(request.name, bytes) : readBoundaryFile(request.name, bytes)
}
