/** Files in and out of a window that may not touch the disk: bytes as base64 in, a download out. */
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'

export interface GivenFile {
  name: string
  base64: string
}

/** [byte] more is refused before it is read. */
export const mostBytes = 20 * 1024 * 1024

/** @param from, to [byte] absent: the whole file */
export async function readFile(file: File, from = 0, to = file.size): Promise<GivenFile> {
  return given(file.name, new Uint8Array(await file.slice(from, to).arrayBuffer()))
}

/** A pasted block as the file that it would be. Whatever a cell holds, as 36" for inches, it is one cell there. */
export function fileOfBlock(block: readonly (readonly string[])[]): GivenFile {
  const [heads = [], ...rows] = block
  // What parts the columns is read from the headings: only tabs may look like it.
  const table = [heads.map((head) => head.replace(/[,;\s]+/g, ' ')), ...rows]
  const lines = table.map((cells) => cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join('\t'))
  return given('what was pasted.tsv', new TextEncoder().encode(lines.join('\n')))
}

function given(name: string, bytes: Uint8Array): GivenFile {
  let text = ''
  // In pieces: a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000))
  return { name: name.slice(0, 255), base64: btoa(text) }
}

export const bytesOf = (base64: string) => Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))

export function download({ name, type, base64 }: WrittenFile): void {
  downloadPieces(name, type, [bytesOf(base64)])
}

export function downloadPieces(name: string, type: string, pieces: Uint8Array<ArrayBuffer>[]): void {
  const url = URL.createObjectURL(new Blob(pieces, { type }))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  // Once the download has begun; the browser reads it at once.
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}
