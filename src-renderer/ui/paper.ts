/** Paper: the system's own print, or in the desktop window a PDF of the page as it would be printed. */
import type { PaperSize } from '../../src-shared/api.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'

export const paperSizes: readonly PaperSize[] = ['Letter', 'A4']

/** Only the desktop window can write a PDF by itself; a browser's print offers it. */
export const canWritePdf = (): boolean => window.standwell !== undefined

/** @returns the file, or null where it could not be made */
export async function pdfOfPage(title: string, paper: PaperSize): Promise<WrittenFile | null> {
  try {
    const base64 = await window.standwell?.pdf(paper)
    return base64 === undefined ? null : { name: `${title}.pdf`, type: 'application/pdf', base64 }
  } catch {
    return null
  }
}
