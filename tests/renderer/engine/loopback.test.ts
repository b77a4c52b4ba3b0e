/** News over a stream: blocks may come in pieces, heartbeats are passed over. */
import { expect, test } from 'vitest'
import type { News } from '../../../src-shared/api.ts'
import { readNews } from '../../../src-renderer/engine/loopback.ts'

test('news is put together again from whatever pieces the line makes of it', async () => {
  const said =
    ': still here\n\ndata: {"kind":"engine","state":"ready"}\n\ndata: {"kind":"changed","tables":["plan"]}\n\n'
  for (const size of [1, 7, said.length]) {
    const body = new ReadableStream<Uint8Array>({
      start(controller) {
        const bytes = new TextEncoder().encode(said)
        for (let at = 0; at < bytes.length; at += size) controller.enqueue(bytes.slice(at, at + size))
        controller.close()
      },
    })
    const heard: News[] = []
    await readNews(body, (news) => heard.push(news))
    expect(heard).toEqual([
      { kind: 'engine', state: 'ready' },
      { kind: 'changed', tables: ['plan'] },
    ])
  }
})
