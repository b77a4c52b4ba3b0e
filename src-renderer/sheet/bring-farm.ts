/** A farm's file that goes into the window or out of it, by choice or by drop: in pieces, so that its size does not matter. */
import type { Reply } from '../../src-shared/api.ts'
import { ok, type Result } from '../../src-shared/problem.ts'
import { mostPieceBytes, type FilePlace } from '../../src-shared/sheet/file-piece.ts'
import { call } from '../engine/call.ts'
import { bytesOf, downloadPieces, readFile } from './file-bytes.ts'

export async function bringFarm(file: File): Promise<Reply<'farm.bringIn'>> {
  let after: FilePlace | null = null
  let at = 0
  for (; file.size - at > mostPieceBytes; at += mostPieceBytes) {
    const { base64 } = await readFile(file, at, at + mostPieceBytes)
    const reply: Reply<'farm.bringPiece'> = await call('farm.bringPiece', { after, base64 })
    if (!reply.ok) return reply
    after = reply.value
  }
  return call('farm.bringIn', { file: { ...(await readFile(file, at)), after } })
}

/** Downloads a copy of the open farm. @returns its name */
export async function takeFarmOut(): Promise<Result<string>> {
  const copy = await call('farm.copyOut', {})
  if (!copy.ok) return copy
  const pieces = [bytesOf(copy.value.base64)]
  for (let from = copy.value.rest; from !== null;) {
    const piece: Reply<'farm.copyRest'> = await call('farm.copyRest', { from })
    if (!piece.ok) return piece
    pieces.push(bytesOf(piece.value.base64))
    from = piece.value.rest
  }
  downloadPieces(copy.value.name, copy.value.type, pieces)
  return ok(copy.value.name)
}
