/** A PDF is offered only where the window can make one, and a page that could not be printed is said to be none. */
import { afterEach, expect, test } from 'vitest'
import type { Desk } from '../../../src-shared/api.ts'
import { canWritePdf, pdfOfPage } from '../../../src-renderer/ui/paper.ts'

afterEach(() => {
  delete window.standwell
})

function desk(pdf: Desk['pdf']) {
  const unasked = { call: () => Promise.reject(new Error('not asked')), openDropped: () => Promise.resolve() }
  window.standwell = { ...unasked, pdf, listen: () => () => undefined, heed: () => () => undefined }
}

test('in a browser there is none', async () => {
  expect(canWritePdf()).toBe(false)
  expect(await pdfOfPage('Orders 2027', 'A4')).toBeNull()
})

test('in the desktop window it is of the paper asked for, under its name', async () => {
  const asked: string[] = []
  desk((paper) => {
    asked.push(paper)
    return Promise.resolve('JVBERi0=')
  })
  expect(canWritePdf()).toBe(true)
  expect(await pdfOfPage('Orders 2027', 'A4')).toEqual({
    name: 'Orders 2027.pdf',
    type: 'application/pdf',
    base64: 'JVBERi0=',
  })
  expect(asked).toEqual(['A4'])
  desk(() => Promise.reject(new Error('refused')))
  expect(await pdfOfPage('Orders 2027', 'Letter')).toBeNull()
})
