/** What several parts of the window ask in one turn is asked once; what is asked later is asked anew. */
import { expect, test } from 'vitest'
import type { CallName, Reply, Transport } from '../../../src-shared/api.ts'
import { call, useTransport } from '../../../src-renderer/engine/call.ts'

function asking() {
  const asked: CallName[] = []
  const transport = {
    call(name: CallName) {
      asked.push(name)
      return Promise.resolve({ ok: true, value: asked.length })
    },
    listen: () => () => undefined,
  }
  useTransport(transport as unknown as Transport)
  return asked
}

const valueOf = (reply: Reply<'field.list'>) => (reply.ok ? reply.value : null)
test('two that show the same fields are answered by one question', async () => {
  const asked = asking()
  const [one, other] = await Promise.all([call('field.list', {}), call('field.list', {})])
  expect(asked).toEqual(['field.list'])
  expect(valueOf(one)).toBe(valueOf(other))
})

test('once an answer could have come it is asked anew: a change may lie between', async () => {
  const asked = asking()
  await call('field.list', {})
  await call('field.list', {})
  expect(asked).toHaveLength(2)
})

test('another input is another question, and a change is never taken for one made already', async () => {
  const asked = asking()
  void call('backup.list', {})
  void call('backup.list', { fileName: 'Creek.farm' })
  void call('undo.back', {})
  void call('undo.back', {})
  await Promise.resolve()
  expect(asked).toEqual(['backup.list', 'backup.list', 'undo.back', 'undo.back'])
})
