/** The paper that PDFs are made for: chosen once, for all pages. */
import type { PaperSize } from '../../src-shared/api.ts'

export const paperSize = $state<{ now: PaperSize }>({ now: 'Letter' })
