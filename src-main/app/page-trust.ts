/** Which addresses are ours, as plain functions so that tests can try hostile ones without Electron. */

export const scheme = 'standwell'
export const home = `${scheme}://app/`

/** True only for our own pages; a sandboxed or data: frame has another origin and is refused. */
export function isOurs(url: string): boolean {
  return url === home || url.startsWith(home)
}

/** Only plain https addresses go to the system's browser: never file:, mailto:, a script or a user:password@ trick. */
export function mayOpenOutside(url: string): boolean {
  if (!URL.canParse(url)) return false
  const { protocol, username, password } = new URL(url)
  return protocol === 'https:' && username === '' && password === ''
}

/** The window's rights; tests/rules/security.test.ts holds them. */
export const pageRights = {
  sandbox: true,
  contextIsolation: true,
  nodeIntegration: false,
  nodeIntegrationInWorker: false,
  nodeIntegrationInSubFrames: false,
  webSecurity: true,
  webviewTag: false,
  allowRunningInsecureContent: false,
  experimentalFeatures: false,
  navigateOnDragDrop: false,
  spellcheck: false,
} as const
