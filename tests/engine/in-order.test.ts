/** Changes of one window begin in the order in which it sent them, whichever comes first. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { InOrder } from '../../src-main/engine/in-order.ts'

test('in whatever order they arrive, each window’s begin as they were sent', async () => {
  const sent = fc.array(fc.constantFrom('one', 'two'), { minLength: 1, maxLength: 12 })
  await fc.assert(
    fc.asyncProperty(sent, fc.infiniteStream(fc.nat(100)), async (windows, weights) => {
      const last: Record<string, number> = {}
      const calls = windows.map((window) => {
        const after = last[window] ?? 0
        last[window] = after + 1
        return { window, number: after + 1, after, weight: weights.next().value as number }
      })
      const begun: Record<string, number[]> = { one: [], two: [] }
      const orders = new InOrder()
      const arriving = calls.toSorted((a, b) => a.weight - b.weight)
      await Promise.all(
        arriving.map(({ window, number, after }) =>
          orders.run(`${window} ${number} ${after}`, async () => {
            begun[window]!.push(number)
            await Promise.resolve()
          }),
        ),
      )
      for (const numbers of Object.values(begun)) expect(numbers).toEqual(numbers.toSorted((a, b) => a - b))
      expect(Object.values(begun).flat()).toHaveLength(calls.length)
    }),
  )
})

test('one that never comes holds the next up for a moment only, and a strange header holds up nothing', async () => {
  const orders = new InOrder()
  expect(await orders.run(undefined, () => Promise.resolve('plain'))).toBe('plain')
  expect(await orders.run('<script> 3 2', () => Promise.resolve('strange'))).toBe('strange')
  const began = performance.now()
  expect(await orders.run('w 3 2', () => Promise.resolve('late'))).toBe('late')
  expect(performance.now() - began).toBeGreaterThan(1000)
  expect(await orders.run('w 4 3', () => Promise.resolve('next'))).toBe('next')
})
