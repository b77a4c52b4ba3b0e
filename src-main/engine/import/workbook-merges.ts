/** Which cells of a workbook are merged, by the name of their sheet: the library that reads the cells does not say. */
import type { Merge } from '../../../src-shared/recognize/grid.ts'

const most = 20_000

const textOf = (bytes: Uint8Array) => Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('utf8')

const unescaped = (text: string) =>
  text.replace(
    /&(amp|lt|gt|quot|apos);/g,
    (_, name: string) => ({ amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" })[name] ?? '',
  )

function attribute(tag: string, name: string): string | null {
  const found = new RegExp(`\\s${name}\\s*=\\s*(?:"([^"]*)"|'([^']*)')`).exec(tag)
  return found ? unescaped(found[1] ?? found[2] ?? '') : null
}

/** @param files of the workbook, unpacked, each within bounds */
export function mergesOf(files: Readonly<Record<string, Uint8Array>>): Map<string, Merge[]> {
  const out = new Map<string, Merge[]>()
  const book = files['xl/workbook.xml']
  const links = files['xl/_rels/workbook.xml.rels']
  if (!book || !links) return out
  const target = new Map<string, string>()
  for (const [tag] of textOf(links).matchAll(/<(?:\w+:)?Relationship\s[^>]*>/g)) {
    const [id, path] = [attribute(tag, 'Id'), attribute(tag, 'Target')]
    if (id !== null && path !== null) target.set(id, path.replace(/^\/?(?:xl\/)?/, 'xl/'))
  }
  for (const [tag] of textOf(book).matchAll(/<(?:\w+:)?sheet\s[^>]*>/g)) {
    const [name, id] = [attribute(tag, 'name'), attribute(tag, 'r:id') ?? attribute(tag, '\\w+:id')]
    const bytes = files[target.get(id ?? '') ?? '']
    if (name === null || !bytes) continue
    const merges: Merge[] = []
    for (const [, one = '', two = ''] of textOf(bytes).matchAll(
      /<(?:\w+:)?mergeCell\s[^>]*ref\s*=\s*["']([A-Z]{1,3}\d{1,7}):([A-Z]{1,3}\d{1,7})["']/g,
    )) {
      const [from, to] = [placeOf(one), placeOf(two)]
      merges.push({ top: from.row, left: from.column, bottom: to.row, right: to.column })
      if (merges.length >= most) break
    }
    out.set(name, merges)
  }
  return out
}

function placeOf(text: string): { row: number; column: number } {
  const [, letters = '', digits = '1'] = /^([A-Z]+)(\d+)$/.exec(text) ?? []
  let column = 0
  for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64
  return { row: Number(digits) - 1, column: column - 1 }
}
