/** The page as it would be printed, as a PDF: for a page that asks for it, or straight to a file from the menu. */
import { app, dialog, type BrowserWindow, type WebContents } from 'electron'
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'

/**
 * Margins and page numbers are the page's own, by its print styles. No file is written here: the page offers the bytes
 * as a download, and the system asks where to.
 * @param paper given by the page, so it may be anything; what is not A4 is letter
 * @returns base64
 */
export async function pdfOf(page: WebContents, paper: unknown): Promise<string> {
  return (await bytesOf(page, paper === 'A4' ? 'A4' : 'Letter')).toString('base64')
}

const bytesOf = (page: WebContents, pageSize: 'A4' | 'Letter') =>
  page.printToPDF({ pageSize, generateTaggedPDF: true, preferCSSPageSize: false })

/** Countries that print on letter; all others on A4. */
const onLetter = new Set(['US', 'CA', 'MX', 'PH', 'CL', 'CO', 'VE', 'GT', 'SV', 'NI', 'CR', 'PA', 'DO', 'PR'])

/** Of the page as it is shown, in the paper of the system's country; the dialog asks where to. */
export async function savePdf(window: BrowserWindow): Promise<void> {
  const name = window
    .getTitle()
    .replace(/[\\/:*?"<>|]/g, ' ')
    .replace(/\s+/g, ' ')
  const { filePath, canceled } = await dialog.showSaveDialog(window, {
    title: 'Page as PDF',
    defaultPath: join(app.getPath('documents'), `${name}.pdf`),
    filters: [{ name: 'PDF', extensions: ['pdf'] }],
  })
  if (canceled || filePath === '') return
  const country = app.getLocaleCountryCode()
  try {
    await writeFile(
      filePath,
      await bytesOf(window.webContents, country === '' || onLetter.has(country) ? 'Letter' : 'A4'),
    )
  } catch (error) {
    const detail = `${error instanceof Error ? error.message : ''} Choose another folder, or print to a file.`
    await dialog.showMessageBox(window, { type: 'warning', message: 'The PDF could not be written.', detail })
  }
}
