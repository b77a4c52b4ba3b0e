/** Typing faster than the engine answers: nothing typed into a lot's tag or balance is lost, on a real farm file. */
import { cleanup, fireEvent, render, screen, waitFor } from '@testing-library/svelte'
import { afterEach, expect, test } from 'vitest'
import type { Transport } from '../../../../src-shared/api.ts'
import { useTransport } from '../../../../src-renderer/engine/call.ts'
import { saving } from '../../../../src-renderer/engine/saving.svelte.ts'
import DeliveriesPage from '../../../../src-renderer/pages/deliveries/DeliveriesPage.svelte'
import { pick } from '../../../shared/demo-farm.ts'
import { springFarm } from '../../../support/spring-farm.ts'

afterEach(cleanup)

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

/** The page on a farm with one lot, its line to the engine slowed both ways. */
async function slowPage(delay: number) {
  const farm = await springFarm()
  const { lotId } = await farm.receive(pick(await farm.receipts(), ({ packs }) => packs > 0))
  const slow = {
    call: async (name: never, input: never) => {
      await pause(delay / 2)
      const reply: unknown = await farm.call(name, input)
      await pause(delay / 2)
      return reply
    },
    listen: farm.listen,
  }
  useTransport(slow as unknown as Transport)
  render(DeliveriesPage, { title: 'Deliveries', purpose: '' })
  const lot = async () => pick(await farm.lots(), ({ id }) => id === lotId)
  const { name } = await lot()
  await fireEvent.click(await screen.findByRole('button', { name }))
  const settled = () => waitFor(() => expect(saving.underway).toBe(0))
  return { ...farm, lot, name, settled }
}

async function type(label: string, text: string) {
  const box = screen.getByLabelText(label)
  await fireEvent.input(box, { target: { value: text } })
  await fireEvent.change(box)
}

test('every tag item typed while answers are slow is saved and stays on the page', async () => {
  const { lot, name, settled, close } = await slowPage(120)
  const typed = {
    Origin: 'Nowhere',
    'Pure seed, %': '98',
    'Other crop seed, %': '0',
    'Inert matter, %': '2',
    'Weed seed, %': '0',
    'Germination, %': '82',
    'Hard seed, %': '0',
    'Tested in, as 2027-01': '2026-10',
    'Treated with': 'a fungicide',
    'Seeds a pound': '640',
    'Net weight of a pack, lb': '50',
  }
  for (const [item, text] of Object.entries(typed)) {
    await type(`${item}, tag of lot ${name}`, text)
    await pause(15)
    for (const [earlier, stands] of Object.entries(typed)) {
      expect(screen.getByLabelText<HTMLInputElement>(`${earlier}, tag of lot ${name}`).value, earlier).toBe(stands)
      if (earlier === item) break
    }
  }
  await settled()
  await pause(300)
  for (const [item, text] of Object.entries(typed)) {
    expect(screen.getByLabelText<HTMLInputElement>(`${item}, tag of lot ${name}`).value, item).toBe(text)
  }
  expect((await lot()).tag).toMatchObject({
    origin: 'Nowhere',
    pureSeed: 0.98,
    inert: 0.02,
    germination: 0.82,
    testedIn: '2026-10',
    treatment: 'a fungicide',
    seedsPerPound: 640,
    netPounds: 50,
  })
  await close()
})

test('a refused tag item does not hold the others back', async () => {
  const { lot, name, settled, close } = await slowPage(40)
  await type(`Germination, %, tag of lot ${name}`, 'good')
  await type(`Origin, tag of lot ${name}`, 'Nowhere')
  await settled()
  expect((await lot()).tag).toMatchObject({ origin: 'Nowhere', germination: null })
  expect(screen.getByLabelText<HTMLInputElement>(`Germination, %, tag of lot ${name}`).value).toBe('good')
  await close()
})

test('pounds sent back and pounds counted typed in one breath are both saved', async () => {
  const { lot, name, settled, close } = await slowPage(120)
  const was = await lot()
  await type(`Pounds of lot ${name} sent back`, '120')
  await pause(15)
  await type(`Pounds of lot ${name} left, as counted`, String(was.pounds - 120))
  await pause(15)
  await fireEvent.change(screen.getByLabelText(`What became of lot ${name}`), { target: { value: 'received' } })
  await settled()
  await pause(300)
  expect(await lot()).toMatchObject({ returnedPounds: 120, leftPounds: was.pounds - 120 })
  expect(screen.getByLabelText<HTMLInputElement>(`Pounds of lot ${name} sent back`).value).toBe('120')
  await close()
})

test('undo shows the tag item as it was before', async () => {
  const { must, name, settled, close } = await slowPage(60)
  await type(`Origin, tag of lot ${name}`, 'Nowhere')
  await settled()
  await must('undo.back', {})
  await waitFor(() => expect(screen.getByLabelText<HTMLInputElement>(`Origin, tag of lot ${name}`).value).toBe(''))
  await close()
})

test('Escape brings back what is saved, in a tag and in the balance', async () => {
  const { lot, name, settled, close } = await slowPage(20)
  const label = `Germination, %, tag of lot ${name}`
  await type(label, '91')
  await settled()
  // The page shows what was saved.
  await screen.findAllByText('91 %')
  for (const [box, saved] of [
    [label, '91'],
    [`Pounds of lot ${name} left, as counted`, ''],
  ] as const) {
    const input = screen.getByLabelText<HTMLInputElement>(box)
    await fireEvent.input(input, { target: { value: '11' } })
    await fireEvent.keyDown(input, { key: 'Escape' })
    expect(input.value).toBe(saved)
  }
  expect(await lot()).toMatchObject({ germination: 0.91, leftPounds: null })
  await close()
})

test('0.85 in a box of percent is refused with what was meant', async () => {
  const { lot, name, close } = await slowPage(20)
  await type(`Germination, %, tag of lot ${name}`, '0.85')
  expect((await screen.findByText(/less than 1 %/)).textContent).toBe('0.85 is less than 1 %: enter 85 for 85 %.')
  expect((await lot()).tag).toBeNull()
  await close()
})
