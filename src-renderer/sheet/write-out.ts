/** A table written to a file of its own and handed to the person: what is said when it is done, or why it is not. */
import { call } from '../engine/call.ts'
import { announce } from '../ui/announce.svelte.ts'
import { download } from './file-bytes.ts'
import type { TableOut } from './table-out.ts'

export async function writeOut(title: string, as: 'csv' | 'xlsx', table: TableOut): Promise<void> {
  const reply = await call('export.table', { title, as, ...table })
  if (!reply.ok) {
    announce(`Not written: ${reply.problems[0]?.what ?? ''}`)
    return
  }
  download(reply.value)
  announce(`${reply.value.name} written`)
}
