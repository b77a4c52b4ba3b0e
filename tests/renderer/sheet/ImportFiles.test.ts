/** A file that takes long to read can be canceled on the page that imports it. */
import { render, screen } from '@testing-library/svelte'
import { expect, test } from 'vitest'
import type { Transport } from '../../../src-shared/api.ts'
import { useTransport } from '../../../src-renderer/engine/call.ts'
import ImportFiles from '../../../src-renderer/sheet/ImportFiles.svelte'

test('offers Cancel while a file is read, and says that nothing was changed', async () => {
  const asked: string[] = []
  let refuse: (reply: unknown) => void = () => undefined
  useTransport({
    call: (name: string) => {
      asked.push(name)
      if (name === 'import.look') return new Promise((resolve) => (refuse = resolve))
      const problem = { code: 'bad-file', what: 'You canceled the import.', remedy: 'Nothing was changed.' }
      refuse({ ok: false, problems: [problem] })
      return Promise.resolve({ ok: true, value: null })
    },
    listen: () => () => undefined,
  } as unknown as Transport)
  const pasted = { name: 'what was pasted.tsv', base64: 'RmllbGQ=' }
  render(ImportFiles, { sheet: 'field', pasted, done: () => undefined })
  const cancel = await screen.findByRole('button', { name: 'Cancel' })
  cancel.click()
  expect(await screen.findByText(/You canceled the import/)).toBeTruthy()
  expect(asked.filter((name) => name !== 'import.answers')).toEqual(['import.look', 'import.stop'])
  expect(screen.queryByRole('button', { name: 'Cancel' })).toBeNull()
})
