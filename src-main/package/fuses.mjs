/**
 * The switches burnt into Electron's program when Standwell is packaged: what a page, a variable or a flag could otherwise
 * turn the app into. Packaging calls `burnFuses`; a test burns them into a real program and reads them back.
 */
import { FuseV1Options, FuseVersion, flipFuses } from '@electron/fuses'

/** Each with its reason. */
export const fuses = {
  // The program would run any script as Node, with the app's name and rights.
  [FuseV1Options.RunAsNode]: false,
  // NODE_OPTIONS and --inspect would bring code and a debugger in from outside.
  [FuseV1Options.EnableNodeOptionsEnvironmentVariable]: false,
  [FuseV1Options.EnableNodeCliInspectArguments]: false,
  // What is run is the archive that was packaged, unchanged, and nothing that lies beside it.
  [FuseV1Options.OnlyLoadAppFromAsar]: true,
  [FuseV1Options.EnableEmbeddedAsarIntegrityValidation]: true,
  // Pages come by a scheme of our own; `file:` needs no reach beyond a file.
  [FuseV1Options.GrantFileProtocolExtraPrivileges]: false,
  [FuseV1Options.EnableCookieEncryption]: true,
}

/** @param {string} program path of Electron's program; on macOS it is signed anew, where it was signed for testing */
export async function burnFuses(program) {
  await flipFuses(program, { version: FuseVersion.V1, resetAdHocDarwinSignature: true, ...fuses })
}
