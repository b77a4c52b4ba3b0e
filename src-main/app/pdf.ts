/** The page as it would be printed, as a PDF: the only thing of the desktop that a page may ask for by itself. */
import type { WebContents } from 'electron'

/**
 * Margins and page numbers are the page's own, by its print styles. No file is written here: the page offers the bytes
 * as a download, and the system asks where to.
 * @param paper given by the page, so it may be anything; what is not A4 is letter
 * @returns base64
 */
export async function pdfOf(page: WebContents, paper: unknown): Promise<string> {
  const bytes = await page.printToPDF({ pageSize: paper === 'A4' ? 'A4' : 'Letter', generateTaggedPDF: true })
  return bytes.toString('base64')
}
