/**
 * What the window's pages may do, said once for both hosts (Electron's scheme and the loopback server).
 * Pure: no file is read here. Nothing may be loosened without tests/rules/security.test.ts being changed too.
 */

export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

export const pageHeaders: Record<string, string> = {
  'content-security-policy': contentPolicy,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-resource-policy': 'same-origin',
  'cache-control': 'no-cache',
}

/**
 * In a browser other pages are about, which must not hold on to ours. In the desktop window there is none, none is ever
 * opened, and asking for this costs it a second process at each start.
 */
export const besideOthers: Record<string, string> = { ...pageHeaders, 'cross-origin-opener-policy': 'same-origin' }

const contentTypes = new Map([
  ['html', 'text/html; charset=utf-8'],
  ['js', 'text/javascript; charset=utf-8'],
  ['css', 'text/css; charset=utf-8'],
  ['json', 'application/json; charset=utf-8'],
  ['svg', 'image/svg+xml'],
  ['png', 'image/png'],
  ['woff2', 'font/woff2'],
])

/** The type by the file's ending; undefined means that this kind of file is never served. */
export function contentTypeOf(file: string): string | undefined {
  return contentTypes.get(file.slice(file.lastIndexOf('.') + 1).toLowerCase())
}

/**
 * A URL's path → the file below out/renderer, with forward slashes, or null for anything that is not plainly inside.
 * Names are a short alphabet, so an encoded dot, a backslash, a drive or a null byte is refused rather than decoded.
 * Example: `/` → `index.html`; `/assets/a.js` → `assets/a.js`; `/../package.json` → null.
 */
export function pageFile(urlPath: string): string | null {
  if (urlPath === '/') return 'index.html'
  const parts = urlPath.slice(1).split('/')
  return parts.every((part) => /^[\w-][\w.-]*$/.test(part)) ? parts.join('/') : null
}
