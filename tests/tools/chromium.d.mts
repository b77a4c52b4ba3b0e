/** Types of chromium.mjs, which stays plain JavaScript so that any Node can run it. */
export const chromiumArgs: string[]
export function findProgram(name: string): string | null
export function findChromium(): string | null
export function getChromium(): string | null
