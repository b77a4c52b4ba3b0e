/** Files in and out of a window that may not touch the disk: bytes as base64 in, a download out. */
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'

export interface GivenFile {
  name: string
  base64: string
}

/** [byte] more is refused before it is read. */
export const mostBytes = 20 * 1024 * 1024

export async function readFile(file: File): Promise<GivenFile> {
  const bytes = new Uint8Array(await file.arrayBuffer())
  let text = ''
  // In pieces: a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000))
  return { name: file.name.slice(0, 255), base64: btoa(text) }
}

export function download({ name, type, base64 }: WrittenFile): void {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))
  const url = URL.createObjectURL(new Blob([bytes], { type }))
  const link = document.createElement('a')
  link.href = url
  link.download = name
  link.click()
  // Once the download has begun; the browser reads it at once.
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}
